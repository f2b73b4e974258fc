import { compareEvaluations, type EvaluationComparison, evaluate, restoreEvaluation } from "@alcedo-dosimetry/campaign";
import type { Transaction } from "kysely";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { loadCampaign } from "./campaign-at.ts";
import { inTransaction } from "./in-transaction.ts";
import type { KeptSignature, SignatureBody } from "./keep-signature.ts";
import type { Schema } from "./schema.ts";

/** The signatures under a campaign, first to last, each with whether the campaign still is what was signed. */
export async function signaturesOf(archive: Archive, id: string): Promise<KeptSignature[]> {
  return inTransaction(archive, async (tx) => {
    const rows = await tx
      .selectFrom("signature")
      .innerJoin("revision", "revision.seq", "signature.seq")
      .innerJoin("campaign", "campaign.id", "signature.campaign")
      .select(["signature.seq", "revision.body", "campaign.input"])
      .where("signature.campaign", "=", id)
      .orderBy("signature.seq")
      .execute();
    return rows.map(({ seq, body, input }) => {
      const { signed } = JSON.parse(body) as SignatureBody;
      return { ...signed, seq, isCurrent: signed.input === input };
    });
  });
}

/** What has become of a campaign since it was signed. */
export interface ChangeSinceSigned extends EvaluationComparison {
  /** The campaign's revision now. */
  readonly revision: number;
  /** The revisions that came since, first to last: who, when, why. */
  readonly revisions: readonly {
    readonly seq: number;
    readonly at: string;
    readonly who: string;
    readonly why: string;
  }[];
}

/**
 * What has changed since a signature: the evaluation that was frozen with it beside one of the campaign as it is now, each
 * difference taken apart by the inputs that made it.
 *
 * @param seq the signature's revision
 * @throws ArchiveError (`unknown`) when that is no signature under the campaign
 */
export async function changeSinceSigned(archive: Archive, id: string, seq: number): Promise<ChangeSinceSigned> {
  return inTransaction(archive, async (tx) => {
    const { signed, frozen } = await frozenUnder(tx, id, seq);
    const { campaign, revision } = await loadCampaign(tx, id);
    const revisions = await tx
      .selectFrom("revision")
      .select(["seq", "at", "who", "why"])
      .where("kind", "=", "campaign")
      .where("subject", "=", id)
      .where("seq", ">", signed.revision)
      .orderBy("seq")
      .execute();
    return { revision, revisions, ...compareEvaluations(restoreEvaluation(frozen), evaluate(campaign)) };
  });
}

/** A signature's statement with the evaluation that the measurer's signature froze. */
async function frozenUnder(tx: Transaction<Schema>, id: string, seq: number) {
  const rows = await tx
    .selectFrom("signature")
    .innerJoin("revision", "revision.seq", "signature.seq")
    .select(["signature.seq", "signature.evaluation", "signature.meaning", "revision.body"])
    .where("signature.campaign", "=", id)
    .where("signature.seq", "<=", seq)
    .orderBy("signature.seq", "desc")
    .execute();
  const own = rows[0]?.seq === seq ? rows[0] : undefined;
  const measured = rows.find(({ evaluation, meaning }) => meaning === "measured" && evaluation === own?.evaluation);
  if (own === undefined || measured === undefined) {
    throw new ArchiveError(
      "unknown",
      `Revision ${seq} is no signature under ${id}.`,
      "Look it up among the campaign's.",
    );
  }
  const { frozen } = JSON.parse(measured.body) as SignatureBody;
  const { signed } = JSON.parse(own.body) as SignatureBody;
  return { signed, frozen: frozen! };
}
