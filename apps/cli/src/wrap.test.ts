import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { textWidth } from "./text-width.ts";
import { wrap, wrapBehind } from "./wrap.ts";

const words = fc.array(fc.stringMatching(/^[a-fα-ω][a-zα-ω0-9_/.]{0,11}$/), { minLength: 1, maxLength: 30 });

describe("wrapping a text", () => {
  test("keeps every word, in order, in lines of at most the width", () => {
    fc.assert(
      fc.property(words, fc.integer({ min: 12, max: 100 }), (list, width) => {
        const lines = wrap(list.join(" "), width);
        expect(lines.join(" ")).toBe(list.join(" "));
        for (const line of lines) expect(textWidth(line)).toBeLessThanOrEqual(width);
      }),
    );
  });

  test("leaves a word that is too long whole, so that a path can be copied", () => {
    expect(wrap("see /a/very/long/path/to/a/file.csv there", 12)).toEqual([
      "see",
      "/a/very/long/path/to/a/file.csv",
      "there",
    ]);
  });

  test("divides no number from its unit, sign or operator", () => {
    expect(wrap("off by 0.24 % now", 11)).toEqual(["off by", "0.24 % now"]);
    expect(wrap("share < 0.1 %", 9)).toEqual(["share", "< 0.1 %"]);
    expect(wrap("N_D 0.2580(18) Gy/nC", 16)).toEqual(["N_D", "0.2580(18) Gy/nC"]);
    expect(wrap("k_vol · k_pos", 8)).toEqual(["k_vol ·", "k_pos"]);
  });

  test("hangs the lines after the first, behind blanks or a stem", () => {
    expect(wrap("one two three", 9, 2)).toEqual(["one two", "  three"]);
    expect(wrapBehind("│ = ", "one two three four five six", 24, "│   ")).toEqual([
      "│ = one two three four",
      "│   five six",
    ]);
  });

  test("gives one empty line for an empty text", () => {
    expect(wrap("", 10)).toEqual([""]);
  });
});
