import { expect, test } from "vitest";
import type { Finding, FindingLevel } from "./finding.ts";
import { findingList, LISTED } from "./finding-list.ts";

const finding = (level: FindingLevel, i: number): Finding => ({ level, code: "test", message: `${level} ${i}` });
const where = { series: "separation", file: "separation.csv" };

test("errors come first, each kind in the order found", () => {
  const list = findingList(where);
  for (const [level, i] of [
    ["notice", 1],
    ["error", 2],
    ["warning", 3],
    ["error", 4],
  ] as const)
    list.add(finding(level, i));
  expect(list.all().map(({ message }) => message)).toEqual(["error 2", "error 4", "notice 1", "warning 3"]);
});

test.each([LISTED, LISTED + 1, 1000])("of %i errors none disappears in silence", (count) => {
  const list = findingList(where);
  for (let i = 0; i < count; i++) list.add(finding("error", i));
  const errors = list.all();
  const more = errors.find(({ code }) => code === "more-errors");
  expect(errors.filter(({ code }) => code === "test").length + Number(more?.facts?.["more"] ?? 0)).toBe(count);
  expect(errors.length).toBeLessThanOrEqual(LISTED + 1);
});

test("what is not listed is counted in words", () => {
  const message = (count: number) => {
    const list = findingList(where);
    for (let i = 0; i < LISTED + count; i++) list.add(finding("error", i));
    return list.all().at(-1)?.message;
  };
  expect(message(1)).toBe("separation.csv: 1 more error is not listed.");
  expect(message(7)).toBe("separation.csv: 7 more errors are not listed.");
});

test("a flood of notices hides no error", () => {
  const list = findingList(where);
  for (let i = 0; i < 1000; i++) list.add(finding("notice", i));
  list.add(finding("error", 1));
  expect(list.all()[0]?.message).toBe("error 1");
  expect(list.all().at(-1)).toMatchObject({ level: "notice", code: "more-notices", facts: { more: 950 } });
});
