import { describe, expect, test } from "vitest";
import { repeatedRules, ruleProblems, rulesOf, titlesOf } from "../../scripts/check-rules.mjs";

const spec = (text: string) => rulesOf(text, "SPEC.md");
const tests = (text: string) => titlesOf(text, "a.test.ts");
const problems = (rules: string, code: string) => ruleProblems(spec(rules), tests(code));

describe("rules and their tests", () => {
  test("a rule is a list item that begins with its id", () => {
    expect(spec("# Rules\n\n- **DIST-1** The quantile.\n- plain\n- **DIST-2** Another.\nsee **DIST-3**")).toEqual([
      { id: "DIST-1", at: "SPEC.md:3" },
      { id: "DIST-2", at: "SPEC.md:5" },
    ]);
  });

  test("titles are found in every form of a test that runs", () => {
    const code = [
      'test("A-1: plain", () => {});',
      'it("A-2: it", () => {});',
      'test.each([1])("A-3: each", () => {});',
      "test.for([1])(`A-4: of $" + "{n}`, () => {});",
      'test.concurrent(\n  "A-5: wrapped",\n  () => {},\n);',
    ];
    expect(tests(code.join("\n")).map(({ title }) => title.slice(0, 4))).toEqual([
      "A-1:",
      "A-2:",
      "A-3:",
      "A-4:",
      "A-5:",
    ]);
  });

  test("a test that is skipped, to be done, or expected to fail proves nothing", () => {
    expect(
      tests('test.skip("A-1: x", f); test.todo("A-1: x"); test.fails("A-1: x", f); describe("A-1: x", f);'),
    ).toEqual([]);
  });

  test("a rule without a test is reported where it stands", () => {
    expect(problems("- **A-1** x\n- **A-2** y", 'test("A-1: x", f);')).toEqual([
      'SPEC.md:2: rule A-2 has no test; begin a test\'s title with "A-2: "',
    ]);
  });

  test("A-1 is not proved by A-10", () => {
    expect(problems("- **A-1** x\n- **A-10** y", 'test("A-10: x", f);')).toHaveLength(1);
  });

  test("a title that names no rule, or forgets the colon, is reported where it stands", () => {
    expect(problems("- **A-1** x", 'test("A-1: x", f);\ntest("A-7: y", f);\ntest("A-1 z", f);')).toEqual([
      "a.test.ts:2: the title names rule A-7, which is not in the package's SPEC.md",
      'a.test.ts:3: write "A-1: " with a colon, or the test does not count for the rule',
    ]);
  });

  test("a title that begins with the name of a standard is no rule", () => {
    expect(problems("", 'test("TRS-483 gives the equivalent square", f);')).toEqual([]);
  });

  test("an id written twice is reported at its second place", () => {
    expect(repeatedRules([...spec("- **A-1** x"), ...rulesOf("- **A-1** y", "other/SPEC.md")])).toEqual([
      "other/SPEC.md:1: rule A-1 is already written in SPEC.md:1",
    ]);
  });
});
