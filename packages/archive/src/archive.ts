import type { Kysely } from "kysely";
import type { Schema } from "./schema.ts";

/**
 * An open archive as whoever works in it sees it. Many people share one: `{ ...archive, who: "j. doe" }` is the same archive
 * in another person's hands.
 */
export interface Archive {
  /** The database, in whichever dialect. */
  readonly db: Kysely<Schema>;
  /** The time now, ISO 8601 with its offset from UTC: written into each revision. */
  readonly clock: () => string;
  /** Who makes the revisions. */
  readonly who: string;
  /** What is wrong with how the database itself holds the tables, a line each: part of an audit. */
  readonly storageFaults: () => Promise<string[]>;
}
