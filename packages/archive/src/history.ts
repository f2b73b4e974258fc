import type { Archive } from "./archive.ts";
import { inTransaction } from "./in-transaction.ts";
import type { Kind, RevisionTable } from "./schema.ts";

/** A revision without what it holds. */
export type HistoryEntry = Omit<RevisionTable, "body">;

/** The revisions of a campaign, a fibre or a beam, first to last: who, when, why. */
export async function historyOf(archive: Archive, kind: Kind, subject: string): Promise<HistoryEntry[]> {
  return inTransaction(archive, async (tx) =>
    tx
      .selectFrom("revision")
      .select(["seq", "at", "who", "why", "kind", "subject", "base", "seal"])
      .where("kind", "=", kind)
      .where("subject", "=", subject)
      .orderBy("seq")
      .execute(),
  );
}
