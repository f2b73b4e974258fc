import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { printable } from "./printable.ts";
import { errorCode, reasonOf } from "./system-error.ts";

/**
 * Writes files into a folder that is new or empty, and nowhere else.
 *
 * @returns why nothing, or not all, could be written; undefined when it is done.
 */
export function writeNewFolder(folder: string, files: ReadonlyMap<string, string | Uint8Array>): string | undefined {
  try {
    mkdirSync(folder, { recursive: true });
    const there = readdirSync(folder);
    if (there.length > 0) return notEmpty(folder, there);
    for (const [file, content] of files) writeFileSync(join(folder, file), content, { flag: "wx" });
  } catch (error) {
    if (errorCode(error) === undefined) throw error;
    const reason = errorCode(error) === "EEXIST" ? "a file of that name is there already" : reasonOf(error);
    return `${printable(folder)} cannot be written: ${reason}.`;
  }
  return undefined;
}

function notEmpty(folder: string, there: readonly string[]): string {
  const some = there.slice(0, 3).map(printable).join(", ");
  const more = there.length > 3 ? ` and ${there.length - 3} more` : "";
  return `${printable(folder)} is not empty (${some}${more}), and nothing is ever written over. Name a new folder.`;
}
