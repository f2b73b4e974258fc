import type { Result } from "@alcedo-dosimetry/campaign";
import { appendRevision } from "./append-revision.ts";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { inTransaction } from "./in-transaction.ts";
import type { EvaluationTable } from "./schema.ts";
import { valueDigest } from "./seal.ts";

/**
 * What is kept of an evaluation: the result without its budgets, which are nine tenths of it and come back, with the same
 * digest, when the same program evaluates the same campaign.
 */
export interface KeptResult extends Omit<Result, "quantities"> {
  readonly quantities: readonly Omit<Result["quantities"][number], "budget">[];
}

/** The body of an evaluation's revision. */
export interface EvaluationBody {
  readonly digest: string;
  readonly result: KeptResult;
}

/**
 * Keeps an evaluation of a campaign as it is now. The same result is kept once.
 *
 * @throws ArchiveError (`conflict`) when the campaign has changed since it was evaluated
 */
export async function keepEvaluation(
  archive: Archive,
  id: string,
  result: Result,
  why: string,
): Promise<EvaluationTable> {
  const digest = valueDigest(result);
  return inTransaction(archive, async (tx) => {
    const campaign = await tx.selectFrom("campaign").select("input").where("id", "=", id).executeTakeFirst();
    if (campaign?.input !== result.input) {
      throw new ArchiveError(
        campaign === undefined ? "unknown" : "conflict",
        campaign === undefined
          ? `The archive keeps no campaign ${id}.`
          : `The evaluation is of other readings than the campaign ${id} holds now.`,
        "Evaluate the campaign as it is kept.",
      );
    }
    const same = await tx
      .selectFrom("evaluation")
      .selectAll()
      .where("campaign", "=", id)
      .where("result", "=", digest)
      .executeTakeFirst();
    if (same !== undefined) return same;
    const quantities = result.quantities.map(({ budget: _budget, ...quantity }) => quantity);
    const body: EvaluationBody = { digest, result: { ...result, quantities } };
    const { seq } = await appendRevision(tx, archive, { kind: "evaluation", subject: id, why, body });
    const row = evaluationEntry(id, seq, body);
    await tx.insertInto("evaluation").values(row).execute();
    return row;
  });
}

/** The row of an evaluation in the table that lists read. */
export function evaluationEntry(campaign: string, seq: number, { digest, result }: EvaluationBody): EvaluationTable {
  return {
    seq,
    campaign,
    input: result.input,
    result: digest,
    standing: result.standing,
    program: result.alcedo,
  };
}

/** The evaluations of a campaign, newest first. */
export async function evaluationsOf(archive: Archive, id: string): Promise<EvaluationTable[]> {
  return inTransaction(archive, async (tx) =>
    tx.selectFrom("evaluation").selectAll().where("campaign", "=", id).orderBy("seq", "desc").execute(),
  );
}

/**
 * An evaluation as it was kept.
 *
 * @throws ArchiveError (`unknown`) when the revision is no evaluation
 */
export async function evaluationAt(archive: Archive, revision: number): Promise<EvaluationBody> {
  return inTransaction(archive, async (tx) => {
    const row = await tx
      .selectFrom("revision")
      .select("body")
      .where("kind", "=", "evaluation")
      .where("seq", "=", revision)
      .executeTakeFirst();
    if (row !== undefined) return JSON.parse(row.body) as EvaluationBody;
    throw new ArchiveError("unknown", `Revision ${revision} is no evaluation.`, "Look it up among the campaign's.");
  });
}
