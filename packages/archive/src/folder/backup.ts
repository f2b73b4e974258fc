import { ArchiveError, inWords } from "../archive-error.ts";
import { type Audit, audit, type KnownSeal } from "../audit.ts";
import { below, copyFile, isThere, makeFolder, namesIn, remove, rename } from "./disk.ts";
import { type ArchiveFolder, BACKUPS, DATABASE, type OpenOptions, openArchive } from "./open-archive.ts";

/** A backup that was proven. */
export interface Backup {
  readonly file: string;
  readonly audit: Audit;
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
  if (!Number.isInteger(keep) || keep < 1) {
    throw new ArchiveError("invalid", `${keep} backups cannot be kept.`, "Keep at least 1.");
  }
  const folder = below(archive.folder, BACKUPS);
  makeFolder(folder);
  const now = await audit(archive);
  if (now.faults[0] !== undefined) {
    const { says } = now.faults[0];
    throw new ArchiveError("damaged", `The archive is not as it was kept: ${says}`, "Restore the newest backup.");
  }
  const part = below(folder, "unproven.part");
  remove(part);
  try {
    archive.file.copyInto(part);
    const proven = await proveBackup(part, below(folder, "proof"), archive, now);
    const file = below(folder, nameOf(proven, archive.clock()));
    rename(part, file);
    for (const name of backupsIn(folder).slice(0, -keep)) remove(below(folder, name));
    return { file, audit: proven };
  } catch (error) {
    remove(part);
    throw inWords(error);
  }
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

/** What was kept when the backup began must be in it; what came while it was made may be. */
async function proveBackup(part: string, aside: string, archive: ArchiveFolder, now: Audit): Promise<Audit> {
  remove(aside);
  try {
    const { clock, who } = archive;
    const known = now.revisions === 0 ? [] : [{ revision: now.revisions, seal: now.seal }];
    return await restoreBackup(part, aside, { clock, who, fileSystem: () => 0 }, known);
  } finally {
    remove(aside);
  }
}

function nameOf({ revisions }: Audit, at: string): string {
  return `revision-${String(revisions).padStart(9, "0")}-${at.replace(/[^0-9A-Za-z+-]/g, "-")}.sqlite`;
}

function notProven(backup: string, says: string): ArchiveError {
  return new ArchiveError("backup-failed", `The backup ${backup} is not sound: ${says}`, "Take another one.");
}
