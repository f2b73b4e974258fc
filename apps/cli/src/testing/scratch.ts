import { execFileSync } from "node:child_process";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** The demonstration campaign. */
export const DEMONSTRATION = fileURLToPath(new URL("../../../../examples/demonstration", import.meta.url));

/** A folder of one's own that is taken away behind the test. */
export async function inScratch<T>(work: (folder: string) => T | Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), "alcedo-cli-"));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A copy of the demonstration campaign to be spoilt. */
export function inCopyOfDemonstration<T>(work: (folder: string) => T | Promise<T>): Promise<T> {
  return inScratch((folder) => {
    const copy = join(folder, "campaign");
    cpSync(DEMONSTRATION, copy, { recursive: true });
    return work(copy);
  });
}

/** A pipe that nobody writes to: whoever opens it to read would wait for ever. */
export function makePipe(path: string): void {
  execFileSync("sh", ["-c", 'mkfifo "$0"', path]);
}
