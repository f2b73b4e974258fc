import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { printable } from "./printable.ts";
import { errorCode, reasonOf } from "./system-error.ts";

/**
 * Writes one new file, and folders on the way to it; nothing is ever written over.
 *
 * @returns why it could not be written; undefined when it is done.
 */
export function writeNewFile(file: string, content: Uint8Array): string | undefined {
  try {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, content, { flag: "wx" });
  } catch (error) {
    if (errorCode(error) === undefined) throw error;
    return errorCode(error) === "EEXIST" && existsSync(file)
      ? takenName(file)
      : `${printable(file)} cannot be written: ${errorCode(error) === "EEXIST" ? "a part of its path is no folder" : reasonOf(error)}.`;
  }
  return undefined;
}

/** Why a file is not written where one is already; undefined where there is none. */
export function taken(file: string): string | undefined {
  return existsSync(file) ? takenName(file) : undefined;
}

function takenName(file: string): string {
  return `${printable(file)} is there already, and nothing is ever written over. Name a new file.`;
}
