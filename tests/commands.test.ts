import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alcedoLines, runCommands } from "./commands.ts";
import { documents, root } from "./repository-files.ts";
import { type Snippet, snippetsOfMarkdown } from "./snippets.ts";

const inDocuments = documents()
  .flatMap((file) => snippetsOfMarkdown(readFileSync(join(root, file), "utf8"), file))
  .filter((snippet) => snippet.language === "sh" && alcedoLines(snippet).length > 0);

describe("commands in documents end as they say", () => {
  test("there are some", () => {
    expect(inDocuments.length).toBeGreaterThan(0);
  });

  test.each(inDocuments.map((snippet) => [`${snippet.file}:${snippet.line}`, snippet] as const))("%s", (_, snippet) => {
    expect(runCommands(snippet)).toEqual([]);
  });
});

describe("the command runner", () => {
  const snippet = (code: string): Snippet => ({ file: "trial.md", line: 5, language: "sh", code });

  test("takes the alcedo lines alone, joined where they go on, with the status that they say", () => {
    expect(alcedoLines(snippet("npm start\nalcedo evaluate \\\n  a --json\nalcedo evaluate b # exit 2"))).toEqual([
      { command: "alcedo evaluate a --json", line: 7, exit: 0 },
      { command: "alcedo evaluate b # exit 2", line: 8, exit: 2 },
    ]);
  });

  test("reports a line that ends otherwise, in a pipe too", () => {
    const folder = mkdtempSync(join(tmpdir(), "alcedo-program-"));
    try {
      const program = join(folder, "program.mjs");
      writeFileSync(program, "console.error('no such field'); process.exit(Number(process.argv[2]));");
      expect(runCommands(snippet("alcedo 0\nalcedo 2 # exit 2"), program)).toEqual([]);
      expect(runCommands(snippet("alcedo 0\nalcedo 2 | cat"), program)).toEqual([
        'trial.md:6: "alcedo 2 | cat" ended with 2, not 0: no such field',
      ]);
      expect(runCommands(snippet("alcedo 0 # exit 1"), program)).toHaveLength(1);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
