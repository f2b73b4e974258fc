import { printable } from "./printable.ts";

/** A path as a shell takes it. */
export function shellWord(path: string): string {
  return /^[\w./~-]+$/.test(path) ? path : `'${printable(path).replaceAll("'", "'\\''")}'`;
}
