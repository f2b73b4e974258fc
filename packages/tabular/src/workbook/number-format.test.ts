import { expect, test } from "vitest";
import { formatOfCode, numberFormat } from "./number-format.ts";

const number = (decimals: number) => ({ shows: "number", decimals });

test.each([
  ["General", number(0)],
  ["0", number(0)],
  ["0.000", number(3)],
  ["#,##0.00", number(2)],
  ["0.0##", number(1)],
  ['0.00" mm"', number(2)],
  ["0.00_ ;[Red]\\-0.00", number(2)],
  ["0.00E+00", number(0)],
  ["# ?/?", number(0)],
  ["0.0%", { shows: "percent", decimals: 1 }],
  ["@", { shows: "text" }],
  ["yyyy-mm-dd", { shows: "date" }],
  ["hh:mm", { shows: "date" }],
  ["[h]:mm:ss", { shows: "date" }],
  ["[$-407]d. mmmm yyyy", { shows: "date" }],
  ['"day" 0', number(0)],
])("the code %s shows %j", (code, expected) => expect(formatOfCode(code)).toEqual(expected));

test("formats named by number alone are those of the standard (ECMA-376 part 1, 18.8.30)", () => {
  expect(numberFormat(0, undefined)).toEqual(number(0));
  expect(numberFormat(2, undefined)).toEqual(number(2));
  expect(numberFormat(10, undefined)).toEqual({ shows: "percent", decimals: 2 });
  expect(numberFormat(49, undefined)).toEqual({ shows: "text" });
  for (const id of [14, 22, 45, 47]) expect(numberFormat(id, undefined)).toEqual({ shows: "date" });
  expect(numberFormat(14, "0.0")).toEqual(number(1));
});
