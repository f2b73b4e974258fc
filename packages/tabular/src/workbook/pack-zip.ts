import { zipSync } from "fflate";

/** The time that every part bears: none that could tell two archives of the same content apart. Zip knows no time zones. */
const MTIME = "1980-01-02T12:00:00";

/** Packs files into a zip archive, in the order given. The same files give the same bytes. */
export function packZip(files: ReadonlyMap<string, Uint8Array>): Uint8Array {
  return zipSync(Object.fromEntries(files), { level: 6, mtime: MTIME });
}
