import { sql } from "kysely";
import type { Forbid } from "../migrations/migration.ts";

/** SQLite's trigger that refuses to change or delete rows. Its text is part of released schemas: it is never edited. */
export const forbidChange: Forbid = async (db, table, what) => {
  await sql
    .raw(
      `create trigger ${table}_no_${what} before ${what} on ${table} begin select raise(abort, '${table} is append-only'); end`,
    )
    .execute(db);
};
