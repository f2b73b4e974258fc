import { Kysely } from "kysely";
import { migrate } from "../migrate.ts";
import { type Schema, TABLES } from "../schema.ts";
import { forbidChange } from "./forbid-change.ts";
import { openSqliteFile, type SqliteFile } from "./sqlite-file.ts";

/**
 * What is wrong with how a database file holds the tables: damage, references to nothing, a schema that is not what the
 * migrations make (a trigger that is gone, say), and cells that hold more than a query shows.
 */
export async function storageFaults(file: SqliteFile): Promise<string[]> {
  const damage = file.rows("PRAGMA integrity_check").map((row) => String(row["integrity_check"]));
  const dangling = file.rows("PRAGMA foreign_key_check").map(({ rowid, table, parent }) => {
    const row = `row ${String(rowid)} of the table ${String(table)}`;
    return `${row} refers to a row of the table ${String(parent)} that is not there.`;
  });
  return [
    ...damage.filter((line) => line !== "ok").map((line) => `the database is damaged: ${line}.`),
    ...dangling,
    ...(await schemaFaults(file)),
    ...cellFaults(file),
  ];
}

const SCHEMA = "select type || ' ' || name as what, sql from sqlite_master where sql is not null order by name";

async function schemaFaults(file: SqliteFile): Promise<string[]> {
  const model = openSqliteFile(":memory:");
  const db = new Kysely<Schema>({ dialect: model.dialect });
  try {
    await migrate(db, forbidChange);
    const schema = ({ rows }: SqliteFile) => new Map(rows(SCHEMA).map((row) => [String(row["what"]), row["sql"]]));
    const [should, is] = [schema(model), schema(file)];
    const names = [...new Set([...should.keys(), ...is.keys()])];
    return names.flatMap((name) => {
      if (!is.has(name)) return [`the ${name} is missing.`];
      if (!should.has(name)) return [`the ${name} does not belong to the archive.`];
      return is.get(name) === should.get(name) ? [] : [`the ${name} is not as it was made.`];
    });
  } finally {
    await db.destroy();
    model.close();
  }
}

/** A text with a zero character is shown up to it only; SQLite puts a value of any kind into any column. */
function cellFaults(file: SqliteFile): string[] {
  return TABLES.flatMap((table) => {
    const strange = file.rows(`PRAGMA table_info(${table})`).map(({ name, type }) => {
      const cell = `"${String(name)}"`;
      const kind = `typeof(${cell}) not in ('${String(type).toLowerCase()}', 'null')`;
      const zero = `instr(cast(${cell} as blob), x'00') > 0`;
      return `when ${kind} or (typeof(${cell}) = 'text' and ${zero}) then '${String(name)}'`;
    });
    return file
      .rows(
        `select * from (select rowid as row, case ${strange.join(" ")} end as cell from ${table}) where cell is not null`,
      )
      .map(
        ({ row, cell }) => `${String(cell)} in row ${String(row)} of the table ${table} holds what was never written.`,
      );
  });
}
