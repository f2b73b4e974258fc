import { describe, expect, test } from "vitest";
import { asTable, withDecimal } from "./decimal-sign.ts";

describe("a number in the person's decimal sign", () => {
  test.each([
    ["0.6123(21)", "0,6123(21)"],
    ["12.3(4.5)", "12,3(4,5)"],
    ["−1.5×10⁻⁷", "−1,5×10⁻⁷"],
    ["0.34 %", "0,34 %"],
    ["0.05 nC, then 12.5 nC.", "0,05 nC, then 12,5 nC."],
    ["22", "22"],
    ["—", "—"],
  ])("%s becomes %s", (text, expected) => expect(withDecimal(text, ",")).toBe(expected));

  test.each(["127.0.0.1", "version 0.1.0", "cone-7.5x", "r1.5"])("%s is no decimal number and stays", (text) =>
    expect(withDecimal(text, ",")).toBe(text),
  );

  test("stays as it is with a point", () => expect(withDecimal("0.6123(21)", ".")).toBe("0.6123(21)"));
});

describe("what was typed, for a table", () => {
  test.each([
    ["1,234", ".", "1.234"],
    ["1.234", ",", "1,234"],
    ["1.234", ".", "1.234"],
    [" 12 ", ".", "12"],
    [",5", ".", ".5"],
  ] as const)("%s in a table of %s is %s", (typed, table, expected) => expect(asTable(typed, table)).toBe(expected));

  test.each(["1.234,5", "1,234,567"])("%s is left for the reader to refuse: it may mean thousands", (typed) =>
    expect(asTable(typed, ".")).toBe(typed),
  );
});
