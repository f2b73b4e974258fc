import { evaluate, type StoredEvaluation, storeEvaluation } from "@alcedo-dosimetry/campaign";
import type { Transaction } from "kysely";
import { appendRevision } from "./append-revision.ts";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { type KeptCampaign, loadCampaign } from "./campaign-at.ts";
import { inTransaction } from "./in-transaction.ts";
import { loadLatest } from "./keep-campaign.ts";
import { loadPerson } from "./people.ts";
import { type EnteredCell, mismatches, reviewSampleOf, type SampledReading } from "./review-sample.ts";
import type { Schema, SignatureTable } from "./schema.ts";
import { valueDigest } from "./seal.ts";
import { isGenuine, noReason, type SignedStatement } from "./statement.ts";

/** The body of a signature's revision. */
export interface SignatureBody {
  readonly signed: SignedStatement;
  /** Of the measurer's: the evaluation with its graph, so that a later program can trace and compare it. */
  readonly frozen?: StoredEvaluation;
  /** Of a reviewer's: what was typed again from paper. */
  readonly entered?: readonly EnteredCell[];
}

/** A signature and its revision. */
export interface KeptSignature extends SignedStatement {
  /** The number of the revision that holds it. */
  readonly seq: number;
  /** Whether the campaign still is what was signed. */
  readonly isCurrent: boolean;
}

/**
 * Keeps a signature under the evaluation of a campaign as it is now. The measurer's freezes the evaluation with its graph; a
 * reviewer's needs the measurer's, is another person's, and, to agree, the readings of the sample typed again.
 *
 * @throws ArchiveError (`conflict`) when campaign or evaluation have changed since; (`not-allowed`) when the reviewer is the
 *   measurer; (`exists`) when the same person has said so already; (`invalid`) when the signature is not genuine, or what was
 *   entered is not what is kept (`places` says where); nothing is kept then
 */
export async function keepSignature(
  archive: Archive,
  signed: SignedStatement,
  { entered = [], why }: { readonly entered?: readonly EnteredCell[]; readonly why: string },
): Promise<KeptSignature> {
  const { campaign: id, meaning } = signed;
  return inTransaction(archive, async (tx) => {
    await requireGenuine(tx, archive, signed);
    const kept = await loadLatest(tx, id, signed.revision);
    const evaluation = await evaluationSigned(tx, signed);
    await requireUnsaid(tx, signed, evaluation);
    const body: SignatureBody =
      meaning === "measured"
        ? { signed, frozen: frozenEvaluation(kept, signed) }
        : { signed, ...(await reviewed(tx, kept, signed, { evaluation, entered })) };
    const { seq } = await appendRevision(tx, archive, { kind: "signature", subject: id, why, body });
    await tx
      .insertInto("signature")
      .values(signatureEntry(body, seq, evaluation))
      .execute();
    return { ...signed, seq, isCurrent: true };
  });
}

/** The row of a signature in the table that lists read. */
export function signatureEntry({ signed }: SignatureBody, seq: number, evaluation: number): SignatureTable {
  const { campaign, revision, meaning, who } = signed;
  return { seq, campaign, revision, evaluation, meaning, who };
}

/**
 * The readings that a reviewer of a campaign types again from paper.
 *
 * @throws ArchiveError (`invalid`) where nobody has signed the campaign as it is now
 */
export async function reviewSample(archive: Archive, id: string): Promise<SampledReading[]> {
  return inTransaction(archive, async (tx) => {
    const { revision, campaign } = await loadCampaign(tx, id);
    const [first] = (await measuredSignatures(tx, id)).filter((row) => row.revision === revision);
    if (first === undefined) throw notMeasured(id);
    return reviewSampleOf(campaign, first.seal);
  });
}

async function requireGenuine(tx: Transaction<Schema>, { who }: Archive, signed: SignedStatement) {
  const known = await loadPerson(tx, signed.who);
  if (known === undefined) {
    throw new ArchiveError("unknown", `The archive knows no person ${signed.who}.`, "Look the id up in the list.");
  }
  const faults = [
    who !== signed.who && `it is in the name of ${signed.who}, and kept by ${who}`,
    known.person.publicKey !== signed.publicKey && `its key is not that of ${signed.who}`,
    !isGenuine(signed) && "it does not fit what it stands under",
    signed.meaning !== "returned" && signed.reason !== undefined && "it has a reason, and gives nothing back",
  ].filter((fault) => fault !== false);
  if (faults.length > 0) {
    throw new ArchiveError("invalid", `The signature is not genuine: ${faults.join("; ")}.`, "Sign again.");
  }
  if (signed.meaning === "returned" && (signed.reason ?? "").trim() === "") throw noReason();
}

/** The revision of the evaluation that is signed: of these readings, and after which the head of the seal was taken. */
async function evaluationSigned(tx: Transaction<Schema>, signed: SignedStatement): Promise<number> {
  const { campaign, input, evaluation: digest, head } = signed;
  const now = await tx.selectFrom("campaign").select("input").where("id", "=", campaign).executeTakeFirstOrThrow();
  const evaluation = await tx
    .selectFrom("evaluation")
    .select("seq")
    .where("campaign", "=", campaign)
    .where("input", "=", input)
    .where("result", "=", digest)
    .executeTakeFirst();
  if (now.input !== input || evaluation === undefined) {
    throw new ArchiveError(
      "conflict",
      `The archive keeps no such evaluation of the campaign ${campaign} as it is now.`,
      "Evaluate it, look at it, and sign that.",
    );
  }
  const sealed = await tx.selectFrom("revision").select("seq").where("seal", "=", head).executeTakeFirst();
  if (sealed === undefined || sealed.seq < evaluation.seq) {
    throw new ArchiveError(
      "conflict",
      "The head of the seal is not one of this archive since the evaluation.",
      "Sign again.",
    );
  }
  return evaluation.seq;
}

/** What the program that runs now makes of the campaign: it must be what was signed, to the last bit. */
function frozenEvaluation({ id, campaign }: KeptCampaign, signed: SignedStatement): StoredEvaluation {
  const evaluation = evaluate(campaign);
  const frozen = valueDigest(evaluation.result) === signed.evaluation ? storeEvaluation(evaluation) : undefined;
  if (frozen !== undefined) return frozen;
  throw new ArchiveError(
    "conflict",
    evaluation.model === undefined
      ? `The campaign ${id} cannot be evaluated, so there is nothing to sign.`
      : `The campaign ${id} evaluates to something else than what was signed; another version may have evaluated it.`,
    "Evaluate it again, look at it, and sign that.",
  );
}

interface Measured {
  readonly seq: number;
  readonly seal: string;
  readonly who: string;
  readonly revision: number;
  readonly evaluation: number;
}

/** The measurers' signatures under a campaign, first to last. */
async function measuredSignatures(tx: Transaction<Schema>, id: string): Promise<Measured[]> {
  return tx
    .selectFrom("signature")
    .innerJoin("revision", "revision.seq", "signature.seq")
    .select(["signature.seq", "revision.seal", "signature.who", "signature.revision", "signature.evaluation"])
    .where("signature.campaign", "=", id)
    .where("signature.meaning", "=", "measured")
    .orderBy("signature.seq")
    .execute();
}

async function reviewed(
  tx: Transaction<Schema>,
  { id, revision, campaign }: KeptCampaign,
  { who, meaning }: SignedStatement,
  { evaluation, entered }: { readonly evaluation: number; readonly entered: readonly EnteredCell[] },
): Promise<Pick<SignatureBody, "entered">> {
  const measured = await measuredSignatures(tx, id);
  if (measured.some((row) => row.evaluation === evaluation && row.who === who)) {
    throw new ArchiveError("not-allowed", `${who} measured this, and cannot review it.`, "Let another person review.");
  }
  const [first] = measured.filter((row) => row.revision === revision);
  if (first?.evaluation !== evaluation) throw notMeasured(id);
  if (meaning === "returned") return {};
  const places = mismatches(campaign, first.seal, entered);
  if (places.length === 0) return { entered };
  const words = places.map(({ table, reading, column }) => `${table} ${reading} ${column}`).join(", ");
  throw new ArchiveError(
    "invalid",
    `What was entered from paper is not what is kept: ${words}.`,
    "Look at the paper again; where the paper is right, return the campaign with the reason.",
    { places },
  );
}

async function requireUnsaid(tx: Transaction<Schema>, signed: SignedStatement, evaluation: number) {
  const { campaign, revision, meaning, who } = signed;
  const same = await tx
    .selectFrom("signature")
    .select("seq")
    .where("campaign", "=", campaign)
    .where("revision", "=", revision)
    .where("evaluation", "=", evaluation)
    .where("meaning", "=", meaning)
    .where("who", "=", who)
    .executeTakeFirst();
  if (same === undefined) return;
  const says = `${who} has signed this evaluation of ${campaign} so already, in revision ${same.seq}.`;
  throw new ArchiveError("exists", says, "One signature is enough.");
}

function notMeasured(id: string): ArchiveError {
  const says = `Nobody has signed the campaign ${id} as it is now for having measured it.`;
  return new ArchiveError("invalid", says, "Let the measurer sign first.");
}
