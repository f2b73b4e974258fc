import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { shown, shownName, shownValue } from "./shown-text.ts";

describe("a text shown in a message", () => {
  test("stands in quotes as it is", () => {
    expect(shown("6.5 nC")).toBe('"6.5 nC"');
    expect(shown("Größe × 10 µ")).toBe('"Größe × 10 µ"');
    expect(shown("")).toBe('""');
  });

  test("is cut at forty characters, counted as people count them", () => {
    expect(shown("9".repeat(40))).toBe(`"${"9".repeat(40)}"`);
    expect(shown("9".repeat(41))).toBe(`"${"9".repeat(40)}…"`);
    expect(shown("😀".repeat(41))).toBe(`"${"😀".repeat(40)}…"`);
  });

  test("shows control characters, invisible ones and lone surrogates by their code", () => {
    expect(shown("a\u0000\u001b[31m\u007f\u0085\n")).toBe('"a\\u{0}\\u{1b}[31m\\u{7f}\\u{85}\\u{a}"');
    expect(shown("\u202e\u2066\u200b\ufeff\ud800")).toBe('"\\u{202e}\\u{2066}\\u{200b}\\u{feff}\\u{d800}"');
  });

  test("never holds a character that a terminal obeys", () => {
    const text = fc.string({ unit: "binary", maxLength: 80 });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: such characters are what must not be there
    const obeyed = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/;
    fc.assert(fc.property(text, (any) => !obeyed.test(shown(any)) && !obeyed.test(shownName(any))));
  });
});

test("a plain name is shown without quotes, any other with them", () => {
  expect(shownName("data/a-1_b.csv")).toBe("data/a-1_b.csv");
  expect(shownName("a\u001b.csv")).toBe('"a\\u{1b}.csv"');
  expect(shownName(" a")).toBe('" a"');
  expect(shownName("")).toBe('""');
});

test("a value out of JSON is named by its kind where it has no short text", () => {
  expect([null, true, 1.5, "x", [1], { a: 1 }].map(shownValue)).toEqual([
    "null",
    "true",
    "1.5",
    'the text "x"',
    "a list",
    "an object",
  ]);
});
