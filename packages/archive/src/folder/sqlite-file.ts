/** SQLite in one file, through one connection: the only place that knows the database's library. */
import { type SqliteDatabase, SqliteDialect } from "kysely";
import Libsql from "libsql";
import { ArchiveError, inWords } from "../archive-error.ts";

/** An open database file, which is this process's alone until it is closed. */
export interface SqliteFile {
  readonly dialect: SqliteDialect;
  /** Runs one statement of SQLite's own and gives its rows. */
  readonly rows: (sql: string) => readonly Readonly<Record<string, unknown>>[];
  /** Writes a copy, compact and without a log, to a file that must not be there yet. */
  readonly copyInto: (file: string) => void;
  readonly close: () => void;
}

/** What must hold on the connection before anything is written, and the value by which SQLite says that it does. */
const ASSERTED = [
  ["locking_mode = EXCLUSIVE", "locking_mode", "exclusive"],
  ["journal_mode = WAL", "journal_mode", "wal"],
  ["synchronous = FULL", "synchronous", 2],
  ["foreign_keys = ON", "foreign_keys", 1],
  // Apple's disks keep what is flushed in a cache unless they are asked more firmly; elsewhere it does nothing
  ["fullfsync = ON", "fullfsync", 1],
  ["checkpoint_fullfsync = ON", "checkpoint_fullfsync", 1],
  ["cell_size_check = ON", "cell_size_check", 1],
  ["trusted_schema = OFF", "trusted_schema", 0],
] as const;

/**
 * Opens a database file, looks it through (`quick_check`) before anything is written, locks it against every other
 * connection, and asserts write-ahead log, full synchronous and foreign keys.
 *
 * The lock is the system's and ends with the process, however that ends. Nothing else in the process may open the file: on
 * POSIX systems closing any handle of it would drop the lock.
 *
 * @throws ArchiveError when it is in use, damaged or no database; the file is then as it was
 */
export function openSqliteFile(file: string): SqliteFile {
  const db = open(file);
  try {
    const rows = (sql: string) => db.prepare(sql).all() as Record<string, unknown>[];
    if (file !== ":memory:") {
      rows("PRAGMA locking_mode = EXCLUSIVE");
      refuseDamage(rows("PRAGMA quick_check"));
      for (const [setting, name, value] of ASSERTED) {
        db.exec(`PRAGMA ${setting}`);
        assertSetting(rows, name, value);
      }
      // takes the lock now, not with the first revision
      db.exec("BEGIN EXCLUSIVE; COMMIT");
    }
    return {
      dialect: new SqliteDialect({ database: withSafeRollback(db) }),
      rows,
      copyInto: (copy) => void db.prepare("VACUUM INTO ?").run([copy]),
      close: () => {
        try {
          if (db.open && file !== ":memory:") release(db);
        } catch (error) {
          throw inWords(error); // the log stays beside the file, and is read at the next start
        } finally {
          db.close();
        }
      },
    };
  } catch (error) {
    db.close();
    throw inWords(error);
  }
}

/**
 * Looks at a database file that nobody may have open, and holds it still for a moment: whoever would open it to write is
 * refused until the work is done. Nothing is written.
 *
 * @param file its absolute path
 * @throws ArchiveError (`in-use`) when another connection has it
 */
export function whileHeldStill<T>(file: string, work: (rows: SqliteFile["rows"]) => T): T {
  const db = open(readOnly(file));
  try {
    db.exec("BEGIN");
    db.prepare("SELECT count(*) FROM sqlite_master").all();
    return work((sql) => db.prepare(sql).all() as Record<string, unknown>[]);
  } catch (error) {
    throw inWords(error);
  } finally {
    if (db.inTransaction) db.exec("ROLLBACK");
    db.close();
  }
}

/**
 * A file's name as a URI that opens it to be read alone: the library passes over an option of that meaning, and a connection
 * that may write brings a log that a killed process has left into the file when it ends.
 */
function readOnly(file: string): string {
  const path = file.replaceAll("\\", "/").split("/").map(encodeURIComponent).join("/");
  return `file:${path.startsWith("/") ? "" : "/"}${path}?mode=ro`;
}

/**
 * The library keeps statements, and with them the connection, until they are collected as garbage: so the log is brought
 * into the file and the lock given back before the connection is closed.
 */
function release(db: Libsql.Database) {
  for (const statement of ["PRAGMA journal_mode = DELETE", "PRAGMA locking_mode = NORMAL", "PRAGMA schema_version"]) {
    db.prepare(statement).all();
  }
}

function open(file: string): Libsql.Database {
  try {
    return new Libsql(file);
  } catch (error) {
    throw new ArchiveError("disk", `The file ${file} cannot be opened.`, "Look after the folder and its rights.", {
      cause: error,
    });
  }
}

function refuseDamage(found: readonly Readonly<Record<string, unknown>>[]) {
  const lines = found.map((row) => String(row["quick_check"] ?? row["integrity_check"]));
  if (lines.length === 1 && lines[0] === "ok") return;
  throw new ArchiveError(
    "damaged",
    `The archive is damaged: ${lines.slice(0, 3).join("; ")}.`,
    "Leave the folder as it is and restore the newest backup.",
  );
}

function assertSetting(rows: SqliteFile["rows"], name: string, value: string | number) {
  const found = rows(`PRAGMA ${name}`)[0]?.[name];
  if (found === value) return;
  throw new ArchiveError(
    "disk",
    `The database does not keep to ${name} = ${value}; it says ${String(found)}.`,
    "Keep the archive on a local disk whose file system can do it.",
  );
}

/**
 * After some errors (a full disk) SQLite has rolled back by itself, and a further rollback would be an error that hides the
 * first.
 */
function withSafeRollback(db: Libsql.Database): SqliteDatabase {
  return {
    close: () => {}, // whoever opened the file closes it
    prepare: (sql) => db.prepare(sql === "rollback" && !db.inTransaction ? "select 1" : sql),
  };
}
