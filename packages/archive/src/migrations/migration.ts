import type { Kysely } from "kysely";

/** What a dialect says in words of its own: a trigger that refuses to change or to delete a table's rows. */
export type Forbid = (db: Kysely<unknown>, table: string, what: "update" | "delete") => Promise<void>;

/** One step of the schema. A released one is never edited: what is to be different is a further step, which only adds. */
export interface Migration {
  /** 1, 2, 3, … */
  readonly version: number;
  readonly name: string;
  readonly up: (db: Kysely<unknown>, forbid: Forbid) => Promise<void>;
}
