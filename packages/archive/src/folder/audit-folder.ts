import { ArchiveError, inWords } from "../archive-error.ts";
import { type Audit, audit, type KnownSeal } from "../audit.ts";
import { below, copyFile, isThere, namesIn, realFolder, remove, temporaryFolder } from "./disk.ts";
import { DATABASE, openArchive } from "./open-archive.ts";
import { whileHeldStill } from "./sqlite-file.ts";

/** What may lie beside the database after a process ended without closing it: the latest changes. */
const BESIDE = ["-wal", "-journal"];

/**
 * Audits the archive in a folder without changing anything there: the database is copied aside, with what a process that was
 * killed has left beside it, and the copy is opened and looked through.
 *
 * @param known seals that are known outside
 * @throws ArchiveError (`missing`) when there is no archive, (`in-use`) when a process has it open, or what opening it says
 */
export async function auditFolder(folder: string, known: readonly KnownSeal[] = []): Promise<Audit> {
  const file = below(folder, DATABASE);
  if (!isThere(file)) {
    throw new ArchiveError(
      "missing",
      `There is no archive in ${folder}: it has no ${DATABASE}.`,
      "Name the folder of an archive, or set ALCEDO_HOME.",
    );
  }
  const aside = temporaryFolder();
  try {
    copyAside(realFolder(folder), aside);
    const copy = await openArchive(aside, { clock: () => "", who: "audit", fileSystem: () => 0 });
    try {
      return await audit(copy, known);
    } finally {
      await copy.close();
    }
  } catch (error) {
    throw inWords(error);
  } finally {
    remove(aside);
  }
}

function copyAside(folder: string, aside: string) {
  const before = new Set(namesIn(folder));
  const copy = () => {
    for (const end of ["", ...BESIDE]) {
      const name = DATABASE + end;
      if (before.has(name)) copyFile(below(folder, name), below(aside, name));
    }
  };
  try {
    whileHeldStill(below(folder, DATABASE), copy);
  } finally {
    // beside a log SQLite makes an index of it to read it; it holds nothing
    if (!before.has(`${DATABASE}-shm`)) remove(below(folder, `${DATABASE}-shm`));
  }
}
