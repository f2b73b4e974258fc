import { Kysely } from "kysely";
import type { Archive } from "../archive.ts";
import { ArchiveError, inWords } from "../archive-error.ts";
import { migrate } from "../migrate.ts";
import type { Schema } from "../schema.ts";
import { below, fileSystemKind, isThere, makeFolder, namesIn, realFolder } from "./disk.ts";
import { forbidChange } from "./forbid-change.ts";
import { refuseNetworkShare } from "./network-share.ts";
import { openSqliteFile, type SqliteFile } from "./sqlite-file.ts";
import { storageFaults } from "./storage-faults.ts";

/** The name of the database in an archive's folder. */
export const DATABASE = "archive.sqlite";
/** The folder of backups in an archive's folder. */
export const BACKUPS = "backups";

/** An archive in a folder, this process's alone until it is closed. */
export interface ArchiveFolder extends Archive {
  /** Its absolute path. */
  readonly folder: string;
  readonly file: SqliteFile;
  readonly close: () => Promise<void>;
}

/** What an archive needs to know from outside. */
export interface OpenOptions {
  readonly clock: Archive["clock"];
  readonly who: string;
  /** What statfs says of a folder, where something else than the system is to be asked. */
  readonly fileSystem?: (folder: string) => number;
}

/**
 * Opens the archive in a folder; in a folder that is empty or not there, makes one.
 *
 * @throws ArchiveError where it is open in another process, on a network share, damaged, made by a later version, or its
 *   database is gone while backups are there; nothing is changed then
 */
export async function openArchive(folder: string, options: OpenOptions): Promise<ArchiveFolder> {
  const { clock, who, fileSystem = fileSystemKind } = options;
  const real = prepareFolder(folder, fileSystem);
  const file = openSqliteFile(below(real, DATABASE));
  const db = new Kysely<Schema>({ dialect: file.dialect });
  try {
    await migrate(db, forbidChange);
  } catch (error) {
    file.close();
    throw inWords(error);
  }
  return {
    ...{ folder: real, file, db, clock, who },
    storageFaults: async () => storageFaults(file),
    close: async () => {
      // waits for what is under way
      await db.connection().execute(async () => {
        await Promise.resolve();
      });
      await db.destroy();
      file.close();
    },
  };
}

function prepareFolder(folder: string, fileSystem: (folder: string) => number): string {
  try {
    makeFolder(folder);
  } catch (error) {
    throw new ArchiveError("disk", `The folder ${folder} cannot be made.`, "Look after the path and its rights.", {
      cause: error,
    });
  }
  const real = realFolder(folder);
  refuseNetworkShare(real, fileSystem(real));
  if (!isThere(below(real, DATABASE)) && namesIn(below(real, BACKUPS)).length > 0) {
    throw new ArchiveError(
      "missing",
      `The folder ${folder} has backups, but its ${DATABASE} is gone.`,
      "Restore the newest backup into a new folder.",
    );
  }
  return real;
}
