import { expect, test } from "vitest";
import { undocumented } from "../../scripts/check-docs.mjs";

const missing = (code: string) => undocumented(code, "a.ts");

test("every kind of exported declaration needs a doc comment", () => {
  const code = [
    "export function f() {}",
    "export const a = 1, b = 2;",
    "export class C {}",
    "export interface I {}",
    "export type T = 1;",
    "export default 3;",
  ];
  expect(missing(code.join("\n"))).toEqual([
    "a.ts:1: f has no doc comment",
    "a.ts:2: a, b has no doc comment",
    "a.ts:3: C has no doc comment",
    "a.ts:4: I has no doc comment",
    "a.ts:5: T has no doc comment",
    "a.ts:6: the default export has no doc comment",
  ]);
});

test("a doc comment suffices, of overloads the first one's", () => {
  expect(
    missing("/** What f does. */\nexport function f(a: 1): 1;\nexport function f(a: 2): 2;\nexport function f(a) {}"),
  ).toEqual([]);
});

test("an empty doc comment, a line comment, and a tag alone say nothing", () => {
  for (const comment of ["/** */", "// f", "/** @internal */", "/* f */"]) {
    expect(missing(`${comment}\nexport function f() {}`)).toHaveLength(1);
  }
});

test("what is not exported, and what is passed on from elsewhere, needs none", () => {
  expect(missing('function f() {}\nconst a = 1;\nexport { a };\nexport * from "./b.ts";\nimport "./c.ts";')).toEqual(
    [],
  );
});
