import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { documents, filesUnder, root } from "./repository-files.ts";
import { runSnippet } from "./run-snippet.ts";
import { type Snippet, snippetsOfMarkdown, snippetsOfSource } from "./snippets.ts";

const read = (file: string) => readFileSync(join(root, file), "utf8");
const place = ({ file, line }: Snippet) => `${file}:${line}`;

const inDocuments = documents()
  .flatMap((file) => snippetsOfMarkdown(read(file), file))
  .filter(({ language }) => language === "ts");

const inSources = filesUnder("packages", ".ts")
  .filter((file) => !file.endsWith(".test.ts"))
  .flatMap((file) => snippetsOfSource(read(file), file))
  .filter(({ language }) => language === "ts");

describe("snippets run and show what they say", () => {
  test("there are some", () => {
    expect(inDocuments.length).toBeGreaterThan(0);
  });

  test.concurrent.each(inDocuments.map((snippet) => [place(snippet), snippet] as const))("%s", async (_, snippet) => {
    expect(await runSnippet(snippet)).toEqual([]);
  });

  test.concurrent.each(inSources.map((snippet) => [place(snippet), snippet] as const))("%s", async (_, snippet) => {
    // A doc comment may use what its own file and its package export without importing it.
    const index = snippet.file.replace(/\/src\/.*/, "/src/index.ts");
    const inScope = [snippet.file, index].map((file) => join(root, file)).filter((file) => existsSync(file));
    expect(await runSnippet(snippet, [...new Set(inScope)])).toEqual([]);
  });
});

describe("the snippet runner", () => {
  const run = (code: string) => runSnippet({ file: "trial.md", line: 11, language: "ts", code });

  test("compares expressions, logged values and declared names with what stands behind them", async () => {
    expect(
      await run(
        [
          "const half = 1 / 2; // → 0.5",
          "half + 1; // → 1.5",
          'console.log("half", half); // → half 0.5',
          "[half, { third: 1 / 3 }]; // → [ 0.5, { third: 0.333… } ]",
          "for (const twice of [half]) console.log(2 * twice); // → 1",
          "await Promise.resolve();",
        ].join("\n"),
      ),
    ).toEqual([]);
  });

  test("names the line whose value is another", async () => {
    expect(await run("const a = 1;\na + 1; // → 3")).toEqual(["trial.md:12: says 3, but it shows 2"]);
  });

  test("does not take part of a number for the number", async () => {
    expect(await run("12.5; // → 2.5")).toEqual(["trial.md:11: says 2.5, but it shows 12.5"]);
    expect(await run("2.51; // → 2.5")).toEqual(["trial.md:11: says 2.5, but it shows 2.51"]);
  });

  test("reports a value that is never reached, or stands where no statement ends", async () => {
    expect(await run("if (1 > 2) 3; // → 3")).toEqual(["trial.md:11: says 3, but it was never reached"]);
    expect(await run("f(\n  1, // → 1\n);")).toEqual([
      "trial.md:12: the value must stand behind a statement on its last line",
    ]);
  });

  test("reports a snippet that throws, and one that cannot be built", async () => {
    expect((await run('throw new Error("no beam");'))[0]).toContain("no beam");
    expect((await run('import "@alcedo-dosimetry/nothing";'))[0]).toContain("Could not resolve");
  });

  test("gives a doc comment the exports of its file and its package, unless it has a name of its own", async () => {
    const snippet = { file: "packages/metrology/src/special.ts", line: 1, language: "ts" };
    const inScope = ["packages/metrology/src/special.ts", "packages/metrology/src/index.ts"].map((f) => join(root, f));
    expect(await runSnippet({ ...snippet, code: "exp(0); // → 1\ntypeof Model; // → function" }, inScope)).toEqual([]);
    expect(await runSnippet({ ...snippet, code: "const exp = 3; // → 3" }, inScope)).toEqual([]);
  });

  test("finds the examples in doc comments, with their lines, and refuses one without a fence", () => {
    const source = [
      "/** One. */",
      "/**",
      " * Two.",
      " *",
      " * @example",
      " * ```ts",
      " * two(); // → 2",
      " * ```",
      " */",
    ];
    expect(snippetsOfSource(source.join("\n"), "two.ts")).toEqual([
      { file: "two.ts", line: 7, language: "ts", code: "two(); // → 2" },
    ]);
    expect(() => snippetsOfSource("/**\n * @example two()\n */", "two.ts")).toThrow("two.ts:2");
  });
});
