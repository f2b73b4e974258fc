import type { Archive } from "./archive.ts";
import { inTransaction } from "./in-transaction.ts";
import type { EvaluationTable } from "./schema.ts";

/** The newest evaluation of each of these campaigns, by campaign; one that was never evaluated has none. */
export async function latestEvaluations(
  archive: Archive,
  campaigns: readonly string[],
): Promise<ReadonlyMap<string, EvaluationTable>> {
  if (campaigns.length === 0) return new Map();
  return inTransaction(archive, async (tx) => {
    const newest = tx
      .selectFrom("evaluation")
      .select((of) => of.fn.max("seq").as("seq"))
      .where("campaign", "in", campaigns)
      .groupBy("campaign");
    const rows = await tx.selectFrom("evaluation").selectAll().where("seq", "in", newest).execute();
    return new Map(rows.map((row) => [row.campaign, row]));
  });
}

/** A fibre by its campaigns: how many, the last change, and the newest evaluation of each, the latest first. */
export interface FibreCampaigns {
  readonly fibre: string;
  readonly campaigns: number;
  /** When one of them was changed last. */
  readonly last: string;
  readonly evaluations: readonly EvaluationTable[];
}

/**
 * The fibres that campaigns name, with their newest evaluations.
 *
 * @param limit so many evaluations of each fibre at most
 */
export async function fibreCampaigns(archive: Archive, limit: number): Promise<FibreCampaigns[]> {
  return inTransaction(archive, async (tx) => {
    const counted = await tx
      .selectFrom("campaign")
      .select((of) => ["fibre", of.fn.countAll<number>().as("campaigns"), of.fn.max("latest").as("latest")])
      .groupBy("fibre")
      .orderBy("fibre")
      .execute();
    const all: FibreCampaigns[] = [];
    for (const { fibre, campaigns, latest } of counted) {
      const { at } = await tx
        .selectFrom("revision")
        .select("at")
        .where("seq", "=", Number(latest))
        .executeTakeFirstOrThrow();
      const newest = tx
        .selectFrom("evaluation")
        .innerJoin("campaign", "campaign.id", "evaluation.campaign")
        .select((of) => of.fn.max("evaluation.seq").as("seq"))
        .where("campaign.fibre", "=", fibre)
        .groupBy("evaluation.campaign")
        .orderBy("seq", "desc")
        .limit(limit);
      const evaluations = await tx
        .selectFrom("evaluation")
        .selectAll()
        .where("seq", "in", newest)
        .orderBy("seq", "desc")
        .execute();
      all.push({ fibre, campaigns: Number(campaigns), last: at, evaluations });
    }
    return all;
  });
}
