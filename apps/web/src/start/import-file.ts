import type { Finding } from "@alcedo-dosimetry/campaign";
import type { Problem } from "@alcedo-dosimetry/protocol";
import { ask, errorWords, ProblemError } from "../talk/ask.ts";

/** What came of a file. */
export type Imported =
  | { readonly id: string; readonly findings: readonly Finding[] }
  | { readonly words: string; readonly findings: readonly Finding[] };

/** Hands a campaign in a file (a zipped folder, a workbook) to the server. */
export async function importFile(file: File): Promise<Imported> {
  try {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const { id, findings } = await ask("importFile", { query: { name: file.name }, bytes });
    return { id, findings };
  } catch (error) {
    const problem: Partial<Problem> = error instanceof ProblemError ? error.problem : {};
    return { words: errorWords(error), findings: problem.findings ?? [] };
  }
}
