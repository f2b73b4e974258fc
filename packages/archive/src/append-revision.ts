import type { Transaction } from "kysely";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import type { Kind, RevisionTable, Schema } from "./schema.ts";
import { FIRST_SEAL, sealOf } from "./seal.ts";

/** A revision to be made. */
export interface NewRevision {
  readonly kind: Kind;
  readonly subject: string;
  readonly why: string;
  readonly base?: number;
  /** A JSON value; the order of its keys is kept. */
  readonly body: unknown;
}

/** Adds a revision behind the last one, sealed: the only place where something is written into the record. */
export async function appendRevision(
  tx: Transaction<Schema>,
  archive: Archive,
  { kind, subject, why, base, body }: NewRevision,
): Promise<RevisionTable> {
  const { who } = archive;
  requireText("who made the change", who);
  requireText("why the change was made", why);
  requireText(`the id of the ${kind}`, subject);
  const last = await tx
    .selectFrom("revision")
    .select(["seq", "seal"])
    .orderBy("seq", "desc")
    .limit(1)
    .executeTakeFirst();
  const revision = {
    seq: (last?.seq ?? 0) + 1,
    at: archive.clock(),
    who,
    why,
    kind,
    subject,
    base: base ?? null,
    body: JSON.stringify(body),
  };
  const row = { ...revision, seal: sealOf(last?.seal ?? FIRST_SEAL, revision) };
  await tx.insertInto("revision").values(row).execute();
  return row;
}

function requireText(what: string, text: string) {
  const fault = text.trim() === "" ? "is empty" : isStorable(text) ? undefined : "holds what no text may hold";
  if (fault === undefined) return;
  throw new ArchiveError(
    "invalid",
    `A revision says who, when, why and of what: ${what} ${fault}.`,
    "State it in words.",
  );
}

/** Databases end a text at a zero character, and half a character (a lone surrogate) has no bytes. */
function isStorable(text: string): boolean {
  return !text.includes("\u0000") && !/\p{Surrogate}/u.test(text);
}
