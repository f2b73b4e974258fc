import { join } from "node:path";
import { ESLint, Linter } from "eslint";
import tseslint from "typescript-eslint";
import { beforeAll, expect, test } from "vitest";
import { root } from "../repository-files.ts";

/** The rules of eslint.config.js that keep the pure packages the same everywhere, as they stand for a file. */
const names = ["no-restricted-syntax", "no-restricted-globals", "no-restricted-imports"];
let rulesFor: (file: string) => Promise<Linter.RulesRecord>;

beforeAll(() => {
  const eslint = new ESLint({ cwd: root });
  rulesFor = async (file) => {
    const config = (await eslint.calculateConfigForFile(join(root, file))) as { rules: Linter.RulesRecord };
    return Object.fromEntries(names.flatMap((name) => (config.rules[name] ? [[name, config.rules[name]]] : [])));
  };
});

async function complaints(file: string, code: string): Promise<string[]> {
  const config: Linter.Config = {
    files: ["**/*.ts"],
    languageOptions: { parser: tseslint.parser },
    rules: await rulesFor(file),
  };
  return new Linter().verify(code, config, { filename: file }).map(({ message }) => message);
}

const pure = "packages/dosimetry/src/dose.ts";

test.each([
  "Math.pow(2, 3)",
  'Math["cos"](1)',
  "const m = Math",
  "const { exp } = Math",
  "globalThis.Math.sin(1)",
  "Math.random()",
  "Math.hypot(1, 2)",
  "x ** 2",
  "x **= 2",
  "new Date()",
  "new Intl.NumberFormat()",
  "x.toLocaleString()",
  "x.localeCompare(y)",
  "setTimeout(f, 1)",
  "async function f() {}",
  "const f = async () => 1",
  "new Promise(f)",
  'import("./a.ts")',
  "process.exit(1)",
  "console.log(1)",
  "performance.now()",
  'new Function("return 1")',
  'import { a } from "./a"',
  'import { readFileSync } from "node:fs"',
  'import exp from "@stdlib/math-base-special-exp"',
])("a pure package may not say %s", async (code) => {
  expect(await complaints(pure, code)).not.toEqual([]);
});

test("a pure package may calculate exactly", async () => {
  const code =
    "export const y = Math.sqrt(Math.abs(x)) + Math.floor(x) * Math.imul(2, 3) + Math.sign(x) * Math.PI + Math.max(x, 1);";
  expect(await complaints(pure, code)).toEqual([]);
});

test("only the two doors of metrology may import @stdlib, and they keep every other rule", async () => {
  const code = 'import exp from "@stdlib/math-base-special-exp";';
  expect(await complaints("packages/metrology/src/special.ts", code)).toEqual([]);
  expect(await complaints("packages/metrology/src/distributions.ts", code)).toEqual([]);
  expect(await complaints("packages/metrology/src/tape.ts", code)).toHaveLength(1);
  expect(await complaints("packages/metrology/src/special.ts", "Math.exp(1)")).toHaveLength(1);
});

test("the archive may wait, and one file of it touches the disk; both keep every other rule", async () => {
  const [waits, disk] = ["packages/archive/src/audit.ts", "packages/archive/src/folder/disk.ts"];
  expect(await complaints(waits, "export const f = async (): Promise<void> => await g();")).toEqual([]);
  expect(await complaints(waits, 'import { readFileSync } from "node:fs"')).toHaveLength(1);
  expect(await complaints(waits, "new Date()")).toHaveLength(1);
  expect(await complaints(waits, "Math.exp(1)")).toHaveLength(1);
  expect(await complaints(disk, 'import { readFileSync } from "node:fs"')).toEqual([]);
  expect(await complaints(disk, "new Date()")).toHaveLength(1);
});

test("tests are free of these rules", async () => {
  expect(await complaints("packages/metrology/src/special.test.ts", "Math.exp(1) ** 2; new Date();")).toEqual([]);
});
