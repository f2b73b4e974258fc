import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isNumberFault, isNumberText, type NumberFault, readNumber } from "./number-text.ts";

describe("a number's text", () => {
  test.each([
    ["6.500", ".", 6.5, 0.001],
    ["6,500", ",", 6.5, 0.001],
    ["-3.5", ".", -3.5, 0.1],
    ["+17", ".", 17, 1],
    ["1.2e-3", ".", 1.2e-3, 1e-4],
    ["1,2E+3", ",", 1200, 100],
    ["5.", ".", 5, 1],
    [".512", ".", 0.512, 0.001],
    ["  6.5\u00a0", ".", 6.5, 0.1],
    ["0", ".", 0, 1],
    ["000.10", ".", 0.1, 0.01],
    ["1e29", ".", 1e29, 1e29],
  ] as const)("%j with the decimal sign %j is %d, its last digit worth %d", (text, decimal, value, digit) => {
    expect(readNumber(text, decimal)).toEqual({ value, digit });
  });

  test.each([
    ["6.5 nC", ".", "letters after the digits", "the number alone"],
    ["6.5nC", ".", "letters after the digits", "the number alone"],
    ["22,5 °C", ",", "letters after the digits", "the number alone"],
    ["6.5O2", ".", "letters after the digits", "the number alone"],
    ["abc", ".", "not a number", "such as 6.50"],
    ["abc", ",", "not a number", "such as 6,50"],
    ["NaN", ".", "no finite number", "exclude"],
    ["nan", ".", "no finite number", "exclude"],
    ["Inf", ".", "no finite number", "exclude"],
    ["-Infinity", ".", "no finite number", "exclude"],
    ["#DIV/0!", ".", "no finite number", "exclude"],
    ["1e999", ".", "too large or too small", "exponent"],
    ["1e-999", ".", "too large or too small", "exponent"],
    ["0x1F", ".", "not a decimal number", "decimal digits"],
    ["1,234.5", ".", "thousands separators", "without separators"],
    ["1.234,5", ",", "thousands separators", "without separators"],
    ["1.234.567", ".", "thousands separators", "without separators"],
    ["6 500", ".", "thousands separators", "without separators"],
    ["6'500.25", ".", "thousands separators", "without separators"],
    ["6,5", ".", "a comma", "decimal point"],
    ["6.5", ",", "a point", "decimal comma"],
    ["1,234", ".", "a comma", "without separators"],
    ["−6.5", ".", "typographic minus", "hyphen"],
    ["<0.1", ".", "not a plain number", "note"],
    ["=1+1", ".", "not a plain number", "note"],
    ["0.5%", ".", "per cent", "unit"],
    ["1.2.3", ".", "not a number", "6.50"],
    ["--1", ".", "not a number", "6.50"],
    ["1e", ".", "letters after the digits", "the number alone"],
    [".", ".", "not a number", "6.50"],
    ["-", ".", "not a number", "6.50"],
    ["٣", ".", "not a number", "6.50"],
    ["", ".", "not a number", "6.50"],
  ] as const)("%j with the decimal sign %j is refused: %s, %s", (text, decimal, fault, remedy) => {
    const outcome = readNumber(text, decimal);
    expect(isNumberFault(outcome)).toBe(true);
    expect((outcome as NumberFault).fault).toContain(fault);
    expect((outcome as NumberFault).remedy).toContain(remedy);
  });

  test("is read as the language reads it, with either decimal sign", () => {
    const digits = fc.stringMatching(/^[+-]?\d{1,20}(\.\d{0,20})?(e[+-]?\d{1,2})?$/);
    fc.assert(
      fc.property(digits, (text) => {
        const outcome = readNumber(text, ".");
        if (isNumberFault(outcome)) throw new Error(`${text} ${outcome.fault}`);
        expect(outcome.value).toBe(Number(text));
        expect(outcome.digit).toBeGreaterThan(0);
        expect(readNumber(text.replace(".", ","), ",")).toEqual(outcome);
      }),
    );
  });

  test("one more zero behind the decimal sign keeps the value and makes the last digit ten times finer", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999_999 }), fc.integer({ min: 1, max: 6 }), (whole, places) => {
        const text = `${whole}.${"5".repeat(places)}`;
        const [a, b] = [readNumber(text, "."), readNumber(`${text}0`, ".")];
        if (isNumberFault(a) || isNumberFault(b)) throw new Error("refused");
        expect(b.value).toBe(a.value);
        expect(b.digit).toBe(Number(`1e-${places + 1}`));
      }),
    );
  });

  test("never becomes NaN or infinite, whatever the text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 30 }), fc.constantFrom(".", ","), (text, decimal) => {
        const outcome = readNumber(text, decimal);
        if (isNumberFault(outcome)) expect(outcome.remedy).not.toBe("");
        else expect(Number.isFinite(outcome.value) && Number.isFinite(outcome.digit)).toBe(true);
      }),
    );
  });

  test("of a hundred thousand characters is refused at once", () => {
    expect(isNumberText("1".repeat(100_000), ".")).toBe(true);
    expect(isNumberFault(readNumber("1".repeat(100_000), "."))).toBe(true);
    expect(isNumberFault(readNumber(`${"1 ".repeat(50_000)}x`, "."))).toBe(true);
  });
});
