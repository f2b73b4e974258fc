import type { OutlineResource } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { declaredDecimal, tableDecimal } from "./declared-form.ts";

const where = { series: "background", file: "b.csv" };
const resource = (fields?: readonly { name: string; decimalChar?: "." | "," }[]): OutlineResource => ({
  name: "b",
  path: "b.csv",
  series: "background",
  resource: {
    name: "b",
    path: "b.csv",
    alcedo: { series: "background" },
    ...(fields === undefined ? {} : { schema: { fields: [...fields] } }),
  },
});

test.each([
  [undefined, undefined],
  [[], undefined],
  [[{ name: "reading" }], undefined],
  [[{ name: "reading" }, { name: "mu", decimalChar: "," }], ","],
  [
    [
      { name: "mu", decimalChar: "." },
      { name: "monitor", decimalChar: "." },
    ],
    ".",
  ],
] as const)("fields %j state the decimal sign %j", (fields, decimal) => {
  expect(declaredDecimal(resource(fields), where)).toBe(decimal);
});

test("fields that state two signs are told with both names", () => {
  const fields = [
    { name: "mu", decimalChar: "," },
    { name: "monitor", decimalChar: "." },
  ] as const;
  expect(declaredDecimal(resource(fields), where)).toMatchObject({
    code: "decimal-declared",
    message: "b.csv: the resource states a decimal point for monitor and a decimal comma for mu.",
  });
});

function decimalOf(columns: string[], ...rows: string[][]) {
  const table = { path: "b.csv", columns, rows, lines: rows.map((_, i) => i + 2) };
  return tableDecimal(table, resource(), ["blue"], ";", (name) => name.trim(), where);
}

test("only number cells of readings in force are looked at", () => {
  expect(decimalOf(["reading", "signal_blue", "note"], ["1.5", "6,5", "2.5"])).toBe(",");
  expect(decimalOf(["signal_blue", "exclude"], ["6,5", ""], ["6.5", "sign"])).toBe(",");
  expect(decimalOf(["signal_blue"], ["6,5"], [""], [" "])).toBe(",");
  expect(decimalOf([" signal_blue "], [" 6,5 "])).toBe(",");
  expect(decimalOf(["reading"], ["1,5"])).toBe(".");
});

test("a mixture is placed at the comma, with the row of the point as a fact", () => {
  expect(decimalOf(["signal_blue", "mu"], ["6.5", "1"], ["6.5", "1,5"])).toMatchObject({
    code: "decimal-mixed",
    where: { file: "b.csv", row: 2, line: 3, column: "mu" },
    facts: { otherRow: 1 },
  });
});
