/**
 * The files of an archive's folder, and the only place in the packages that touches a disk but the database's own library.
 * Synchronous: what is done is done when the next line runs.
 */
import * as fs from "node:fs";
import * as os from "node:os";
import * as path from "node:path";

/** A path below a folder. */
export function below(folder: string, ...names: readonly string[]): string {
  return path.join(folder, ...names);
}

/** The number of the file system's kind under a folder, as the system tells it (statfs). */
export function fileSystemKind(folder: string): number {
  return fs.statfsSync(folder).type;
}

/** A folder's absolute path without symbolic links. */
export function realFolder(folder: string): string {
  return fs.realpathSync.native(folder);
}

/** Whether something is there. */
export function isThere(file: string): boolean {
  return fs.existsSync(file);
}

/** Makes a folder, and those above it; one that is there already stays. */
export function makeFolder(folder: string): void {
  fs.mkdirSync(folder, { recursive: true });
}

/** The names in a folder, sorted; none where it does not exist. */
export function namesIn(folder: string): string[] {
  return fs.existsSync(folder) ? fs.readdirSync(folder).sort() : [];
}

/** A new, empty folder of one's own among the system's temporary ones. */
export function temporaryFolder(): string {
  return fs.mkdtempSync(path.join(os.tmpdir(), "alcedo-"));
}

/** Copies a file to a name that must be free, down to the disk. */
export function copyFile(from: string, to: string): void {
  fs.copyFileSync(from, to, fs.constants.COPYFILE_EXCL);
  flush(to);
}

/** Gives a file another name, and brings file and folder down to the disk. */
export function rename(from: string, to: string): void {
  flush(from);
  fs.renameSync(from, to);
  // a folder cannot be opened on every system; where it can, its list of names is flushed too
  if (path.sep === "/") flush(path.dirname(to), "r");
}

/** Removes a file or a folder with all that is in it; nothing there is no error. */
export function remove(file: string): void {
  fs.rmSync(file, { recursive: true, force: true });
}

function flush(file: string, flags = "r+") {
  const handle = fs.openSync(file, flags);
  try {
    fs.fsyncSync(handle);
  } finally {
    fs.closeSync(handle);
  }
}
