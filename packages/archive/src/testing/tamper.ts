import type { SqliteFile } from "../folder/sqlite-file.ts";

/**
 * Does what somebody would do who means to alter an archive unseen: takes the triggers away, runs statements, and puts
 * the triggers back as they were.
 */
export function tamper(file: SqliteFile, ...statements: readonly string[]): void {
  const triggers = file.rows("select name, sql from sqlite_master where type = 'trigger'");
  file.rows("PRAGMA foreign_keys = OFF");
  file.rows("begin");
  for (const { name } of triggers) file.rows(`drop trigger ${String(name)}`);
  for (const statement of statements) file.rows(statement);
  for (const { sql } of triggers) file.rows(String(sql));
  file.rows("commit");
  file.rows("PRAGMA foreign_keys = ON");
}
