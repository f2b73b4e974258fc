import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fittingName, NAME_PATTERN } from "./name-text.ts";

describe("a name", () => {
  test.each([
    ["10x10", "10x10"],
    ["10 × 10", "10x10"],
    ["10×10 cm", "10x10-cm"],
    ["Cone 5.0mm", "cone-5.0mm"],
    ["cone_5", "cone-5"],
    ["  min  ", "min"],
    ["little  fibre", "little-fibre"],
    ["(a)", "a"],
    ["5 mm, Ø", "5-mm"],
    [".5", "5"],
    ["grün", "gr-n"],
    ["--", ""],
    ["", ""],
    ["×", "x"],
  ])("made from %j is %j", (text, name) => {
    expect(fittingName(text)).toBe(name);
  });

  test("fits the pattern or is empty, and stays as it is when made again", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 30 }), (text) => {
        const name = fittingName(text);
        expect(name === "" || NAME_PATTERN.test(name)).toBe(true);
        expect(fittingName(name)).toBe(name);
      }),
    );
  });

  test("that fits already is left alone", () => {
    fc.assert(
      fc.property(fc.stringMatching(NAME_PATTERN), (name) => {
        expect(fittingName(name)).toBe(name);
      }),
    );
  });
});
