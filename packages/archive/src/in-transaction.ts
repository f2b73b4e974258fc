import type { Transaction } from "kysely";
import type { Archive } from "./archive.ts";
import { inWords } from "./archive-error.ts";
import type { Schema } from "./schema.ts";

/**
 * Runs work in one transaction: all of it is kept, or nothing. The promise is fulfilled after the commit, so that whoever
 * waits for it may acknowledge.
 *
 * @throws ArchiveError with a remedy, where the database says what is the matter
 */
export async function inTransaction<T>(archive: Archive, work: (tx: Transaction<Schema>) => Promise<T>): Promise<T> {
  try {
    return await archive.db.transaction().execute(work);
  } catch (error) {
    throw inWords(error);
  }
}
