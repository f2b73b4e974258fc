import { ArchiveError, inWords } from "../archive-error.ts";
import { type Audit, audit, type KnownSeal } from "../audit.ts";
import { below, copyFile, isThere, makeFolder, namesIn, remove, rename } from "./disk.ts";
import { type ArchiveFolder, BACKUPS, DATABASE, type OpenOptions, openArchive } from "./open-archive.ts";

/** A backup that was proven. */
export interface Backup {
  readonly file: string;
  readonly audit: Audit;
}

/** A copy of an archive that is not proven yet. Plain data: another thread can prove it while this one works on. */
export interface ArchiveCopy {
  /** The folder of backups. */
  readonly folder: string;
  readonly part: string;
  /** The last revision and its seal when the copy was begun; absent in an archive without any. */
  readonly last?: KnownSeal;
}

/** How a copy becomes a backup. */
export interface ProveOptions {
  /** How many backups stay, at least 1. */
  readonly keep: number;
  /** When the copy was made, ISO 8601: part of the file's name. */
  readonly at: string;
}

/**
 * Copies the archive into a file of its own under `backups/`, and counts it only when it is proven: the archive is
 * checked in full and audited, the copy restored into a folder aside, opened, audited, and found to hold the seal of the last revision.
 * Then backups beyond the number to keep are removed, the oldest first; when anything fails, none is.
 *
 * @param keep how many backups stay, at least 1
 * @throws ArchiveError (`damaged`, `backup-failed`), or what the disk says; earlier backups stay as they are
 */
export async function backUp(archive: ArchiveFolder, { keep }: { readonly keep: number }): Promise<Backup> {
  requireKeep(keep);
  const now = await audit(archive);
  if (now.faults[0] !== undefined) {
    const { says } = now.faults[0];
    throw new ArchiveError("damaged", `The archive is not as it was kept: ${says}`, "Restore the newest backup.");
  }
  return proveCopy(await copyArchive(archive), { keep, at: archive.clock() });
}

/**
 * The first half of {@link backUp} for an archive in use, without its audit: the copy alone, which takes the database for as
 * long as the disk needs. {@link proveCopy} does the rest, and audits what was copied.
 *
 * @throws what the disk says; nothing is left behind
 */
export async function copyArchive(archive: ArchiveFolder): Promise<ArchiveCopy> {
  const folder = below(archive.folder, BACKUPS);
  const part = below(folder, "unproven.part");
  try {
    makeFolder(folder);
    remove(part);
    // holds the connection: a copy cannot be made in the middle of somebody else's transaction
    return await archive.db.connection().execute(async (db) => {
      const newest = db.selectFrom("revision").select(["seq", "seal"]).orderBy("seq", "desc").limit(1);
      const last = await newest.executeTakeFirst();
      archive.file.copyInto(part);
      return { folder, part, ...(last && { last: { revision: last.seq, seal: last.seal } }) };
    });
  } catch (error) {
    remove(part);
    throw inWords(error);
  }
}

/**
 * The second half of {@link backUp}: proves a copy by restoring and auditing it aside, and makes it a backup.
 *
 * @throws ArchiveError (`backup-failed`), or what the disk says; the copy is gone then, and earlier backups stay
 */
export async function proveCopy({ folder, part, last }: ArchiveCopy, { keep, at }: ProveOptions): Promise<Backup> {
  requireKeep(keep);
  const aside = below(folder, "proof");
  try {
    remove(aside);
    // what was kept when the copy was begun must be in it; what came while it was made may be
    const options = { clock: () => at, who: "backup", fileSystem: () => 0 };
    const proven = await restoreBackup(part, aside, options, last === undefined ? [] : [last]);
    const file = below(folder, nameOf(proven, at));
    rename(part, file);
    for (const name of backupsIn(folder).slice(0, -keep)) remove(below(folder, name));
    return { file, audit: proven };
  } catch (error) {
    remove(part);
    throw inWords(error);
  } finally {
    remove(aside);
  }
}

function requireKeep(keep: number) {
  if (Number.isInteger(keep) && keep >= 1) return;
  throw new ArchiveError("invalid", `${keep} backups cannot be kept.`, "Keep at least 1.");
}

/** The names of the backups in a folder, oldest first: they begin with the number of their last revision. */
export function backupsIn(folder: string): string[] {
  return namesIn(folder).filter((name) => /^revision-\d{9}-.*\.sqlite$/.test(name));
}

/**
 * Restores a backup into a new folder and audits it there.
 *
 * @param known seals that are known outside, to be found in it
 * @throws ArchiveError (`exists`) when the folder has an archive; (`backup-failed`) when the backup is not what it should be:
 *   the folder is then as it was
 */
export async function restoreBackup(
  backup: string,
  folder: string,
  options: OpenOptions,
  known: readonly KnownSeal[] = [],
): Promise<Audit> {
  const target = below(folder, DATABASE);
  if (isThere(target)) {
    throw new ArchiveError("exists", `The folder ${folder} has an archive already.`, "Restore into a new folder.");
  }
  if (!isThere(backup)) throw new ArchiveError("missing", `There is no backup ${backup}.`, "Look its name up.");
  makeFolder(folder);
  copyFile(backup, target);
  try {
    const restored = await openArchive(folder, options);
    try {
      const found = await audit(restored, known);
      if (found.faults[0] !== undefined) throw notProven(backup, found.faults[0].says);
      return found;
    } finally {
      await restored.close();
    }
  } catch (error) {
    for (const end of ["", "-wal", "-shm", "-journal"]) remove(`${target}${end}`);
    throw error instanceof ArchiveError && error.fault !== "backup-failed" ? notProven(backup, error.message) : error;
  }
}

function nameOf({ revisions }: Audit, at: string): string {
  return `revision-${String(revisions).padStart(9, "0")}-${at.replace(/[^0-9A-Za-z+-]/g, "-")}.sqlite`;
}

function notProven(backup: string, says: string): ArchiveError {
  return new ArchiveError("backup-failed", `The backup ${backup} is not sound: ${says}`, "Take another one.");
}
