/**
 * Runs a TypeScript snippet in a Node of its own and compares what it shows with what it says. The value that a
 * statement shows stands behind it as a comment, `// → value`: of an expression, of a `console.log`, or of the name that
 * a declaration gives. `…` stands for digits or text left out: `2.2281…`.
 */
import { fork } from "node:child_process";
import { mkdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import ts from "typescript";
import { nodeProgram } from "../scripts/node-program.mjs";
import type { Snippet } from "./snippets.ts";

const root = fileURLToPath(new URL("..", import.meta.url));
const arrow = /^\/\/ → (.*)$/;

/** What a snippet claims to show at a line of its own, from 1. */
interface Claim {
  readonly line: number;
  readonly says: string;
}

/**
 * Runs a snippet; returns what went wrong, a line each: nothing where all is as it says.
 *
 * @param inScope files whose exports the snippet may use without importing them (for doc comments).
 */
export async function runSnippet(snippet: Snippet, inScope: readonly string[] = []): Promise<string[]> {
  const { code, claims, problems } = instrument(snippet.code);
  if (problems.length > 0) return problems.map((problem) => placed(snippet, problem));
  const outfile = join(root, ".cache/snippets", `${snippet.file.replaceAll("/", "-")}-${snippet.line}.mjs`);
  mkdirSync(dirname(outfile), { recursive: true });
  try {
    await build({
      ...nodeProgram,
      stdin: { contents: code, loader: "ts", resolveDir: dirname(join(root, snippet.file)), sourcefile: snippet.file },
      inject: [...inScope],
      outfile,
      logLevel: "silent",
    });
  } catch (error) {
    return [placed(snippet, { line: 1, says: String(error) })];
  }
  const { shown, failure } = await execute(outfile);
  if (failure !== undefined) return [placed(snippet, { line: 1, says: failure })];
  return claims.flatMap((claim) => {
    const there = shown.filter(([line]) => line === claim.line).map(([, text]) => text);
    if (there.length > 0 && there.every((text) => agrees(claim.says, text))) return [];
    const instead = there.length === 0 ? "it was never reached" : `it shows ${there.join(" and then ")}`;
    return [placed(snippet, { line: claim.line, says: `says ${claim.says}, but ${instead}` })];
  });
}

const placed = (snippet: Snippet, { line, says }: Claim) => `${snippet.file}:${snippet.line + line - 1}: ${says}`;

/** Whether what is shown is what was said, spaces and quotes around a text apart. */
function agrees(says: string, shown: string): boolean {
  const plain = (text: string) => text.trim().replace(/\s+/g, " ");
  const pattern = plain(says)
    .split("…")
    .map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"))
    .join("[^\\s,\\]})]*");
  return [plain(shown), JSON.stringify(shown)].some((text) => new RegExp(`^${pattern}$`).test(text));
}

/** Puts a call of `__show` where a comment claims a value. */
function instrument(code: string): { code: string; claims: Claim[]; problems: Claim[] } {
  const source = ts.createSourceFile("snippet.ts", code, ts.ScriptTarget.Latest, true);
  const lineAt = (position: number) => source.getLineAndCharacterOfPosition(position).line + 1;
  const claims: Claim[] = [];
  const edits: { from: number; to: number; text: string }[] = [];
  const visit = (node: ts.Node): void => {
    const what = shownBy(node);
    for (const range of what === undefined ? [] : (ts.getTrailingCommentRanges(code, node.end) ?? [])) {
      const says = arrow.exec(code.slice(range.pos, range.end))?.[1];
      if (says === undefined || what === undefined) continue;
      const line = lineAt(range.pos);
      claims.push({ line, says });
      const from = what.replaces ? node.getStart() : node.end;
      edits.push({ from, to: node.end, text: `{ __show(${line}, ${what.values}); }` });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);

  const problems = code.split("\n").flatMap((text, index) => {
    const said = text.includes("// →") && !claims.some((claim) => claim.line === index + 1);
    return said ? [{ line: index + 1, says: "the value must stand behind a statement on its last line" }] : [];
  });
  let edited = code;
  for (const { from, to, text } of edits.sort((a, b) => b.from - a.from)) {
    edited = edited.slice(0, from) + text + edited.slice(to);
  }
  return { code: `${prelude}${edited}\n;process.send!(__shown);`, claims, problems };
}

/** On one line, so that the snippet's lines keep their numbers but for the first. */
const prelude = [
  'import { inspect as __inspect } from "node:util";',
  "const __shown: [number, string][] = [];",
  'const __text = (value: unknown) => typeof value === "string" ? value : __inspect(value, { depth: 9, breakLength: Infinity });',
  'const __show = (line: number, ...values: unknown[]) => { __shown.push([line, values.map(__text).join(" ")]); };',
].join(" ");

/** What a statement shows: its expression, what it logs, or the name that it declares. */
function shownBy(node: ts.Node): { values: string; replaces: boolean } | undefined {
  if (ts.isVariableStatement(node)) {
    const name = node.declarationList.declarations.at(-1)?.name;
    return name !== undefined && ts.isIdentifier(name) ? { values: name.text, replaces: false } : undefined;
  }
  if (!ts.isExpressionStatement(node)) return undefined;
  const { expression } = node;
  const logs = ts.isCallExpression(expression) && expression.expression.getText() === "console.log";
  const values = logs ? expression.arguments.map((argument) => argument.getText()).join(", ") : expression.getText();
  return { values, replaces: true };
}

function execute(file: string): Promise<{ shown: [number, string][]; failure?: string }> {
  return new Promise((done) => {
    const child = fork(file, { stdio: ["ignore", "pipe", "pipe", "ipc"], cwd: root, execArgv: [], timeout: 30_000 });
    let shown: [number, string][] = [];
    let output = "";
    child.on("message", (message) => {
      shown = message as [number, string][];
    });
    for (const stream of [child.stdout, child.stderr]) {
      stream?.on("data", (chunk) => {
        output += String(chunk);
      });
    }
    child.on("close", (code) => done(code === 0 ? { shown } : { shown, failure: `ended with ${code}\n${output}` }));
  });
}
