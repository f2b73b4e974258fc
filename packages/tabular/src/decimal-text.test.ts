import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { paddedDecimal, shiftedDecimal } from "./decimal-text.ts";

describe("a number times a power of ten, in its text", () => {
  test.each([
    ["650", -2, "6.50"],
    ["6.5", 1, "65"],
    ["6", 1, "60"],
    ["0.1", -3, "0.0001"],
    ["-12.34", 2, "-1234"],
    ["1.0", 3, "1000"],
    ["1.2e-3", 3, "1.2"],
    ["5E2", -2, "5"],
    [".5", -1, "0.05"],
    ["+7", -1, "+0.7"],
    ["0", 2, "000".slice(2)],
    ["12", 0, "12"],
  ])("%s by 1e%i is %s", (text, power, expected) => expect(shiftedDecimal(text, power)).toBe(expected));

  test.each(["", "6,5", "x", "1e", "--1", "1.2.3", "Infinity", "1e999"])("%j is no such number", (text) =>
    expect(shiftedDecimal(text, 1)).toBeUndefined(),
  );

  test("is exact: back by the same power gives the same value, and integers agree with whole-number arithmetic", () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 18n), max: 10n ** 18n }),
        fc.integer({ min: 0, max: 12 }),
        (whole, power) => {
          expect(shiftedDecimal(String(whole), power)).toBe(String(whole * 10n ** BigInt(power)));
          const back = shiftedDecimal(shiftedDecimal(String(whole), -power)!, power);
          expect(BigInt(back!)).toBe(whole);
        },
      ),
    );
  });
});

test.each([
  ["6.5", 3, "6.500"],
  ["6", 2, "6.00"],
  ["6.5123", 2, "6.5123"],
  ["-6.5", 2, "-6.50"],
  ["1e-7", 3, "1e-7"],
  ["abc", 2, "abc"],
  ["6", 0, "6"],
])("%s with %i decimals is %s: digits that are there stay", (text, decimals, expected) =>
  expect(paddedDecimal(text, decimals)).toBe(expected),
);
