import {
  closeSync,
  constants,
  fstatSync,
  lstatSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  statSync,
} from "node:fs";
import { isAbsolute, join, relative, resolve, sep } from "node:path";
import { DESCRIPTOR_FILE } from "@alcedo-dosimetry/campaign";
import type { FolderSource } from "@alcedo-dosimetry/exchange";
import { printable } from "./printable.ts";
import { errorCode, reasonOf } from "./system-error.ts";

/** Files under a folder beyond which it is no campaign's own. */
const FILES_LIMIT = 10_000;
/** Folders within folders that are looked into. */
const DEEPEST = 8;

/** Why a folder cannot be opened, with what to do. */
export class FolderError extends Error {
  readonly remedy: string;

  constructor(message: string, remedy: string) {
    super(message);
    this.remedy = remedy;
  }
}

/**
 * A folder on disk. What leads out of it, through links or by its path, is refused, and so is everything that is not a plain
 * file; nothing is opened before its kind and size are known.
 *
 * @param limit files under it beyond which it is no campaign's own folder
 * @throws FolderError where there is no such folder, or where it cannot be looked into
 */
export function diskFolder(path: string, limit = FILES_LIMIT): FolderSource {
  const root = realRoot(path);
  const files = filesUnder(root, path, limit);
  return {
    name: path,
    list: () => files,
    size(file) {
      const target = inside(root, file);
      return target === undefined ? undefined : plainFile(statSync(target)).size;
    },
    read(file) {
      const target = inside(root, file);
      if (target === undefined) throw new Error("there is no such file");
      // A pipe put in the file's place since would otherwise be waited for without end.
      const handle = opened(target);
      try {
        plainFile(fstatSync(handle));
        return readFileSync(handle);
      } catch (error) {
        throw inWords(error);
      } finally {
        closeSync(handle);
      }
    },
  };
}

function realRoot(path: string): string {
  const shown = printable(path);
  if (path === "") throw new FolderError("The folder's name is empty.", "Name a campaign folder, or . for this one.");
  try {
    const root = realpathSync(path);
    const stat = statSync(root);
    if (!stat.isDirectory()) {
      const remedy = stat.isFile() ? "Name the folder that holds it." : "Name a campaign folder.";
      throw new FolderError(`${shown}: this is no folder.`, remedy);
    }
    return root;
  } catch (error) {
    if (error instanceof FolderError) throw error;
    if (errorCode(error) === undefined) throw error;
    if (errorCode(error) === "ENOENT" || errorCode(error) === "ENOTDIR")
      throw new FolderError(`${shown}: there is no such folder.`, "Check the path, or make one with `alcedo new`.");
    throw new FolderError(
      `${shown}: the folder cannot be opened: ${reasonOf(error)}.`,
      "Check its permissions and links.",
    );
  }
}

/**
 * The files under a folder by their relative POSIX paths, sorted. Links are named, and folders behind links, hidden ones and
 * those that may not be looked into are passed over: whatever a campaign names is asked for by its path all the same.
 */
function filesUnder(root: string, path: string, limit: number): readonly string[] {
  const found: string[] = [];
  let level = [""];
  for (let depth = 0; depth <= DEEPEST && level.length > 0; depth++) {
    const next: string[] = [];
    for (const folder of level) {
      for (const entry of entriesOf(join(root, folder), depth === 0 ? path : undefined)) {
        const file = folder === "" ? entry.name : `${folder}/${entry.name}`;
        if (!entry.isDirectory()) found.push(file);
        else if (!entry.name.startsWith(".")) next.push(file);
      }
      if (found.length + next.length > limit) {
        // a home directory, say: that it holds no campaign is all there is to tell
        if (!found.includes(DESCRIPTOR_FILE)) return found.sort();
        throw new FolderError(
          `${printable(path)}: more than ${limit} files lie under it.`,
          "Put the campaign into a folder of its own.",
        );
      }
    }
    level = next;
  }
  return found.sort();
}

/** The entries of a folder; of the outermost one, whose path is given, a refusal is told. */
function entriesOf(folder: string, outermost: string | undefined) {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch (error) {
    if (errorCode(error) === undefined) throw error;
    if (outermost === undefined) return [];
    throw new FolderError(
      `${printable(outermost)}: the folder cannot be looked into: ${reasonOf(error)}.`,
      "Check its permissions.",
    );
  }
}

/** The real path of a file, or undefined where nothing of that name is there. */
function inside(root: string, file: string): string | undefined {
  let real: string;
  try {
    real = realpathSync(resolve(root, file));
  } catch (error) {
    if (errorCode(error) === "ENOENT" && lstatSync(resolve(root, file), { throwIfNoEntry: false }))
      throw new Error("it is a link to nothing");
    if (errorCode(error) === "ENOENT" || errorCode(error) === "ENOTDIR") return undefined;
    throw inWords(error);
  }
  const way = relative(root, real);
  if (way === ".." || way.startsWith(`..${sep}`) || isAbsolute(way))
    throw new Error("it leads out of the folder, and nothing outside it is read");
  return real;
}

function opened(path: string): number {
  try {
    return openSync(path, constants.O_RDONLY | constants.O_NONBLOCK);
  } catch (error) {
    throw inWords(error);
  }
}

function plainFile<S extends { isFile(): boolean; isDirectory(): boolean }>(stat: S): S {
  if (stat.isDirectory()) throw new Error("it is a folder");
  if (!stat.isFile()) throw new Error("it is no plain file but a device, pipe or socket");
  return stat;
}

/** A fault of the operating system in words, anything else as it is. */
function inWords(error: unknown): unknown {
  return errorCode(error) === undefined ? error : new Error(reasonOf(error));
}
