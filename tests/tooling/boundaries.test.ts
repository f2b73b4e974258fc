import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { root } from "../repository-files.ts";

/** A house with one planted fault for each rule: the name of the rule that must see it, and who imports what. */
const planted: [rule: string, file: string, imports: string][] = [
  ["metrology-may-import", "packages/metrology/src/up.ts", "@alcedo-dosimetry/dosimetry"],
  ["dosimetry-may-import", "packages/dosimetry/src/up.ts", "@alcedo-dosimetry/campaign"],
  ["exchange-may-import", "packages/exchange/src/past.ts", "@alcedo-dosimetry/metrology"],
  ["exchange-declares", "packages/exchange/src/past.ts", "@alcedo-dosimetry/metrology"],
  ["campaign-tests-declare", "packages/campaign/src/undeclared.test.ts", "@alcedo-dosimetry/metrology"],
  ["recheck-types-only", "packages/recheck/src/borrows.ts", "@alcedo-dosimetry/campaign"],
  ["not-in-the-house", "packages/annexe/src/index.ts", "node:path"],
  ["no-node-in-packages", "packages/campaign/src/host.ts", "node:fs"],
  ["no-way-round-the-name", "packages/dosimetry/src/round.ts", "../../metrology/src/index.ts"],
  ["only-the-index", "packages/dosimetry/src/deep.ts", "../../metrology/src/inner.ts"],
  ["no-cycles", "packages/metrology/src/inner.ts", "./index.ts"],
  ["no-tests-in-code", "packages/campaign/src/tested.ts", "./undeclared.test.ts"],
  ["no-tests-in-code", "packages/campaign/src/propped.ts", "./testing/prop.ts"],
  ["no-app-to-app", "apps/web/src/main.ts", "../../cli/src/main.ts"],
  ["resolvable", "packages/campaign/src/gone.ts", "./nowhere.ts"],
  ["declared", "packages/campaign/src/library.ts", "commander"],
  ["declared", "packages/campaign/src/tool.ts", "fast-check"],
  ["no-node-in-packages", "packages/archive/src/folder/host.ts", "node:fs"],
  ["one-database-driver", "packages/archive/src/second.ts", "libsql"],
  ["folder-knows-archive", "packages/archive/src/down.ts", "./folder/index.ts"],
  ["declared-for-tests", "packages/campaign/src/library.test.ts", "commander"],
];

const allowed: [file: string, line: string][] = [
  ["packages/metrology/src/index.ts", 'export * from "./inner.ts";'],
  ["packages/dosimetry/src/index.ts", 'export * from "@alcedo-dosimetry/metrology";'],
  ["packages/campaign/src/index.ts", 'export * from "@alcedo-dosimetry/dosimetry";'],
  ["packages/campaign/src/good.test.ts", 'import "fast-check"; import "vitest"; import "./index.ts";'],
  ["packages/campaign/src/testing/prop.ts", 'import "fast-check"; import "../index.ts";'],
  ["packages/recheck/src/index.ts", 'import type { a } from "@alcedo-dosimetry/campaign"; export type b = typeof a;'],
  ["packages/archive/src/folder/index.ts", 'import "../index.ts"; import "./disk.ts"; import "./sqlite-file.ts";'],
  ["packages/archive/src/folder/disk.ts", 'import "node:fs"; import "node:path";'],
  ["packages/archive/src/folder/sqlite-file.ts", 'import "libsql";'],
  ["apps/cli/src/main.ts", 'import "@alcedo-dosimetry/exchange"; import "node:fs"; import "commander";'],
];

const dependencies: Record<string, string[]> = {
  "packages/metrology": [],
  "packages/dosimetry": ["@alcedo-dosimetry/metrology"],
  "packages/campaign": ["@alcedo-dosimetry/dosimetry"],
  "packages/exchange": ["@alcedo-dosimetry/campaign"],
  "packages/recheck": ["@alcedo-dosimetry/campaign"],
  "packages/archive": ["@alcedo-dosimetry/campaign", "libsql"],
  "packages/annexe": [],
  "apps/cli": ["@alcedo-dosimetry/exchange", "commander"],
  "apps/web": [],
};

let house: string;

function write(path: string, text: string) {
  mkdirSync(dirname(join(house, path)), { recursive: true });
  writeFileSync(join(house, path), `${text}\n`);
}

function violations(): { rule: string; from: string; to: string }[] {
  const cruiser = join(root, "node_modules/dependency-cruiser/bin/dependency-cruise.mjs");
  const run = spawnSync(process.execPath, [cruiser, "packages", "apps", "--output-type", "json"], {
    cwd: house,
    encoding: "utf8",
    maxBuffer: 1e8,
  });
  const { summary } = JSON.parse(run.stdout) as {
    summary: { violations: { from: string; to: string; rule: { name: string } }[] };
  };
  return summary.violations.map(({ from, to, rule }) => ({ rule: rule.name, from, to }));
}

beforeAll(() => {
  house = mkdtempSync(join(tmpdir(), "alcedo-house-"));
  for (const file of [".dependency-cruiser.mjs", "tsconfig.json", "tsconfig.base.json", "package.json"]) {
    cpSync(join(root, file), join(house, file));
  }
  mkdirSync(join(house, "node_modules/@alcedo-dosimetry"), { recursive: true });
  for (const library of ["commander", "fast-check", "libsql", "vitest"]) {
    write(
      `node_modules/${library}/package.json`,
      JSON.stringify({ name: library, version: "1.0.0", main: "index.js" }),
    );
    write(`node_modules/${library}/index.js`, "");
  }
  for (const [place, names] of Object.entries(dependencies)) {
    const name = `@alcedo-dosimetry/${place.split("/")[1]!}`;
    const declared = Object.fromEntries(names.map((other) => [other, "0.1.0"]));
    write(
      `${place}/package.json`,
      JSON.stringify({ name, exports: { ".": "./src/index.ts" }, dependencies: declared }),
    );
    write(`${place}/src/index.ts`, "export const a = 1;");
    symlinkSync(join(house, place), join(house, "node_modules", name));
  }
  write("packages/metrology/src/inner.ts", "export const a = 1;");
  for (const [file, line] of allowed) write(file, line);
});

afterAll(() => rmSync(house, { recursive: true }));

test("the house as it is planned has no violation", () => {
  rmSync(join(house, "packages/annexe"), { recursive: true });
  expect(violations()).toEqual([]);
});

test("each planted fault is seen by its rule", () => {
  write("packages/annexe/package.json", "{}");
  for (const [, file, imports] of planted) write(file, `import "${imports}"; export const a = 1;`);
  const seen = violations();
  const missed = planted.filter(
    ([rule, file]) => !seen.some((v) => v.rule === rule && (v.from === file || v.to === file)),
  );
  expect(missed).toEqual([]);
});
