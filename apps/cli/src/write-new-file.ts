import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { printable } from "./printable.ts";
import { errorCode, reasonOf } from "./system-error.ts";

/**
 * Writes one new file, and the folders on the way to it unless they have to be there; nothing is ever written over.
 *
 * @returns why it could not be written; undefined when it is done.
 */
export function writeNewFile(
  file: string,
  content: string | Uint8Array,
  folders: "made" | "there" = "made",
): string | undefined {
  try {
    if (folders === "made") mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, content, { flag: "wx" });
  } catch (error) {
    const code = errorCode(error);
    if (code === undefined) throw error;
    if (code === "EEXIST" && (folders === "there" || existsSync(file))) return takenName(file);
    return `${printable(file)} cannot be written: ${whyNot(error, code)}.`;
  }
  return undefined;
}

/** Why a file is not written where one is already; undefined where there is none. */
export function taken(file: string): string | undefined {
  return existsSync(file) ? takenName(file) : undefined;
}

function whyNot(error: unknown, code: string): string {
  if (code === "EEXIST") return "a part of its path is no folder";
  return code === "ENOENT" ? "its folder is not there" : reasonOf(error);
}

function takenName(file: string): string {
  return `${printable(file)} is there already, and nothing is ever written over. Name a new file.`;
}
