/**
 * Runs the `alcedo` lines of a shell snippet with the built command line, in a temporary folder that holds a copy of
 * `examples/`. Other lines (`npm start`, say) are not run. A line ends with status 0, or with the one that its comment
 * gives: `alcedo evaluate broken # exit 2`.
 */
import { spawnSync } from "node:child_process";
import { chmodSync, cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { root } from "./repository-files.ts";
import type { Snippet } from "./snippets.ts";

/** The `alcedo` lines of a shell snippet with their lines in the file; a line that ends in `\` goes on in the next. */
export function alcedoLines(snippet: Snippet): { command: string; line: number; exit: number }[] {
  const found = [];
  let begun = "";
  for (const [index, text] of snippet.code.split("\n").entries()) {
    begun += text.trim();
    if (begun.endsWith("\\")) {
      begun = begun.slice(0, -1);
      continue;
    }
    const exit = Number(/#\s*exit (\d+)\s*$/.exec(begun)?.[1] ?? 0);
    if (begun.startsWith("alcedo ")) found.push({ command: begun, line: snippet.line + index, exit });
    begun = "";
  }
  return found;
}

/**
 * Runs the `alcedo` lines one after the other in one folder; returns what went wrong, a line each.
 *
 * @param program what `alcedo` stands for: a script that Node runs.
 */
export function runCommands(snippet: Snippet, program = join(root, "apps/cli/bin/alcedo.js")): string[] {
  const folder = mkdtempSync(join(tmpdir(), "alcedo-commands-"));
  try {
    mkdirSync(join(folder, ".bin"));
    writeFileSync(join(folder, ".bin/alcedo"), `#!/bin/sh\nexec "${process.execPath}" "${program}" "$@"\n`);
    chmodSync(join(folder, ".bin/alcedo"), 0o755);
    cpSync(join(root, "examples"), join(folder, "examples"), { recursive: true });
    const PATH = `${join(folder, ".bin")}${delimiter}${process.env["PATH"] ?? ""}`;
    return alcedoLines(snippet).flatMap(({ command, line, exit }) => {
      const run = spawnSync("bash", ["-o", "pipefail", "-c", command], {
        cwd: folder,
        encoding: "utf8",
        env: { ...process.env, PATH, NO_COLOR: "1" },
      });
      if (run.status === exit) return [];
      const output = `${run.stdout}${run.stderr}`.trim();
      return [`${snippet.file}:${line}: "${command}" ended with ${run.status ?? run.signal}, not ${exit}: ${output}`];
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
