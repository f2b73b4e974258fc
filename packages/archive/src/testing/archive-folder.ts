import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import { type ArchiveFolder, type OpenOptions, openArchive } from "../folder/index.ts";

/** A folder of its own for the running test, removed after it. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "alcedo-archive-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A clock that goes on by a second each time it is looked at, from an invented morning on. */
function steppingClock(): () => string {
  let seconds = 0;
  return () => {
    seconds += 1;
    return new Date(Date.UTC(2026, 2, 14, 8, 0, seconds)).toISOString();
  };
}

/** An archive in a folder, a new one unless given, closed after the running test. */
export async function openTestArchive(
  folder = temporaryFolder(),
  options: Partial<OpenOptions> = {},
): Promise<ArchiveFolder> {
  const archive = await openArchive(folder, { clock: steppingClock(), who: "R. Tester", ...options });
  onTestFinished(async () => archive.close());
  return archive;
}
