import { ed25519 } from "@noble/curves/ed25519.js";
import { hexToBytes, utf8ToBytes } from "@noble/hashes/utils.js";
import canonicalize from "canonicalize";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { inTransaction } from "./in-transaction.ts";
import { loadLatest } from "./keep-campaign.ts";

/** The measurer says that it was measured so; a reviewer agrees, or gives it back. */
export type Meaning = "measured" | "agrees" | "returned";

/** What is signed. */
export interface Statement {
  readonly campaign: string;
  /** The campaign's revision. */
  readonly revision: number;
  /** Digest of the campaign as that revision left it. */
  readonly input: string;
  /** Digest of the whole result. */
  readonly evaluation: string;
  /** The archive's last seal when the statement was made. */
  readonly head: string;
  readonly meaning: Meaning;
  readonly who: string;
  readonly when: string;
  /** Why it was returned. */
  readonly reason?: string;
}

/** A statement under its signature. */
export interface SignedStatement extends Statement {
  /** Ed25519 over {@link statementBytes}, 64 bytes in hexadecimal. */
  readonly signature: string;
  /** The signer's, 32 bytes in hexadecimal. */
  readonly publicKey: string;
}

/** The bytes that are signed: the canonical JSON (RFC 8785) of the statement and nothing else, in UTF-8. */
export function statementBytes(statement: Statement): Uint8Array {
  const { campaign, revision, input, evaluation, head, meaning, who, when, reason } = statement;
  const said = {
    campaign,
    revision,
    input,
    evaluation,
    head,
    meaning,
    who,
    when,
    ...(reason !== undefined && { reason }),
  };
  return utf8ToBytes(canonicalize(said)!);
}

/** Whether the signature under a statement is that of its key (RFC 8032, strict). */
export function isGenuine(signed: SignedStatement): boolean {
  try {
    const [signature, key] = [hexToBytes(signed.signature), hexToBytes(signed.publicKey)];
    return ed25519.verify(signature, statementBytes(signed), key, { zip215: false });
  } catch {
    return false; // no hexadecimal digits, or no text: nothing that anybody could have signed
  }
}

/**
 * The statement that somebody is to sign, in whose hands the archive is: of the campaign as it is now.
 *
 * @param after the revision that they have seen
 * @param digest of the evaluation that they have seen
 * @throws ArchiveError (`conflict`) when the campaign has changed since, (`unknown`) when the archive keeps no such campaign
 */
export async function statementFor(
  archive: Archive,
  id: string,
  { after, digest, meaning, reason }: { readonly after: number; digest: string; meaning: Meaning; reason?: string },
): Promise<Statement> {
  return inTransaction(archive, async (tx) => {
    await loadLatest(tx, id, after);
    const { input } = await tx.selectFrom("campaign").select("input").where("id", "=", id).executeTakeFirstOrThrow();
    const last = await tx
      .selectFrom("revision")
      .select("seal")
      .orderBy("seq", "desc")
      .limit(1)
      .executeTakeFirstOrThrow();
    const said = {
      campaign: id,
      revision: after,
      input,
      evaluation: digest,
      head: last.seal,
      meaning,
      who: archive.who,
    };
    if (meaning === "returned" && (reason ?? "").trim() === "") throw noReason();
    return { ...said, when: archive.clock(), ...(reason !== undefined && { reason }) };
  });
}

/** A campaign is not given back without a word. */
export function noReason(): ArchiveError {
  return new ArchiveError("invalid", "No reason is given to return the campaign.", "Say what is to be mended.");
}
