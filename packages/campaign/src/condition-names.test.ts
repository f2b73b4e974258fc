import { expect, test } from "vitest";
import { conditionNames } from "./condition-names.ts";
import { findingList } from "./finding-list.ts";

function fitAll(...texts: string[]) {
  const findings = findingList({ file: "a.csv" });
  const names = conditionNames(findings);
  const fitted = texts.map((text, i) =>
    names.fit(text, () => ({ file: "a.csv", row: i + 1, line: i + 2, column: "condition" })),
  );
  return { fitted, findings: findings.all() };
}

test("names that fit stay without a word", () => {
  expect(fitAll("10x10", "cone-5", "10x10")).toEqual({ fitted: ["10x10", "cone-5", "10x10"], findings: [] });
});

test("a name that is changed is told once, however often it stands there", () => {
  const { fitted, findings } = fitAll("Cone 5", "Cone 5", "Cone 5");
  expect(fitted).toEqual(["cone-5", "cone-5", "cone-5"]);
  expect(findings).toMatchObject([
    { level: "notice", code: "name-renamed", where: { row: 1 }, facts: { name: "cone-5" } },
  ]);
});

test("two texts that become one name are an error that names both rows, told once", () => {
  const { findings } = fitAll("10x10", "10 × 10", "10 × 10");
  expect(findings).toMatchObject([
    { level: "error", code: "name-collision", where: { row: 2 }, facts: { name: "10x10", otherRow: 1 } },
  ]);
  expect(findings[0]?.message).toContain('becomes 10x10, like "10x10" in row 1 (line 2)');
});

test("a text of which nothing can be kept has no name, and is told once", () => {
  const { fitted, findings } = fitAll("???", "???");
  expect(fitted).toEqual([undefined, undefined]);
  expect(findings).toMatchObject([{ level: "error", code: "name-unusable", where: { row: 1 } }]);
});
