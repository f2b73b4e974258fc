import { digest } from "@alcedo-dosimetry/campaign";
import type { Transaction } from "kysely";
import { loadRevision } from "./campaign-at.ts";
import type { SignatureBody } from "./keep-signature.ts";
import type { Person } from "./person.ts";
import type { RevisionTable, Schema } from "./schema.ts";
import { isGenuine, type SignedStatement } from "./statement.ts";

/** What a look at one signature gives. */
export interface SignatureFaults {
  readonly body: SignatureBody;
  /** The revision of the evaluation that it stands under; 0 where there is none. */
  readonly evaluation: number;
  readonly faults: readonly string[];
}

/**
 * What is wrong with a signature in the record: not its signer's, not of what the archive keeps, or a reviewer's under
 * measurements of their own.
 */
export async function signatureFaults(
  tx: Transaction<Schema>,
  { seq, subject, body: text }: Pick<RevisionTable, "seq" | "subject" | "body">,
): Promise<SignatureFaults> {
  const body = JSON.parse(text) as SignatureBody;
  const { signed } = body;
  const says = (what: string) => `revision ${seq} (signature of ${signed.who} under ${subject}) ${what}.`;
  const faults: string[] = [];
  if (!isGenuine(signed)) faults.push(says("is not genuine"));
  if ((await keyBefore(tx, signed.who, seq)) !== signed.publicKey) faults.push(says("has a key that was not theirs"));
  if (signed.campaign !== subject) faults.push(says(`is of another campaign, ${signed.campaign}`));
  if ((await inputAt(tx, signed)) !== signed.input) faults.push(says("is under other readings than the archive keeps"));
  const evaluation = await evaluationBefore(tx, signed, seq);
  if (evaluation === undefined) faults.push(says("is under an evaluation that the archive does not keep"));
  const head = await tx.selectFrom("revision").select("seq").where("seal", "=", signed.head).executeTakeFirst();
  if (head === undefined || head.seq >= seq) faults.push(says("names a seal that the record did not have"));
  if (signed.meaning !== "measured" && (await isMeasurer(tx, signed.who, evaluation ?? 0)))
    faults.push(says("reviews what they measured themselves"));
  return { body, evaluation: evaluation ?? 0, faults };
}

async function keyBefore(tx: Transaction<Schema>, who: string, seq: number): Promise<string | undefined> {
  const row = await tx
    .selectFrom("revision")
    .select("body")
    .where("kind", "=", "person")
    .where("subject", "=", who)
    .where("seq", "<", seq)
    .orderBy("seq", "desc")
    .limit(1)
    .executeTakeFirst();
  return row && (JSON.parse(row.body) as Person).publicKey;
}

async function inputAt(tx: Transaction<Schema>, { campaign, revision }: SignedStatement): Promise<string | undefined> {
  const own = await tx
    .selectFrom("revision")
    .select("seq")
    .where("kind", "=", "campaign")
    .where("subject", "=", campaign)
    .where("seq", "=", revision)
    .executeTakeFirst();
  return own && digest((await loadRevision(tx, campaign, revision)).campaign);
}

async function evaluationBefore(tx: Transaction<Schema>, signed: SignedStatement, seq: number) {
  const row = await tx
    .selectFrom("evaluation")
    .select("seq")
    .where("campaign", "=", signed.campaign)
    .where("input", "=", signed.input)
    .where("result", "=", signed.evaluation)
    .where("seq", "<", seq)
    .executeTakeFirst();
  return row?.seq;
}

async function isMeasurer(tx: Transaction<Schema>, who: string, evaluation: number): Promise<boolean> {
  const row = await tx
    .selectFrom("signature")
    .select("seq")
    .where("evaluation", "=", evaluation)
    .where("meaning", "=", "measured")
    .where("who", "=", who)
    .executeTakeFirst();
  return row !== undefined;
}
