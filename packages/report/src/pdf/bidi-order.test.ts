import { describe, expect, test } from "vitest";
import { drawnOrder, levelsOf, mirrored, turns } from "./bidi-order.ts";

const drawn = (text: string) =>
  drawnOrder(text, levelsOf(text), 0, text.length).map(({ start, end }) => text.slice(start, end));

describe("the order in which a line is drawn", () => {
  test("is that of the words where all run from left to right", () => {
    expect(turns("Ω of 10×10")).toBe(false);
    expect(drawn("from left")).toEqual(["from left"]);
  });

  test("turns words from right to left round, and keeps numbers as they are", () => {
    expect(turns("שדה 12 קטן")).toBe(true);
    // Unicode Standard Annex #9: in a paragraph from left to right, the run from right to left begins at its right end
    expect(drawn("x שדה 12 קטן y")).toEqual(["x ", "קטן", " ", "12", " ", "שדה", " y"]);
  });

  test("keeps an isolated name apart from what stands around it", () => {
    expect(drawn("fibre \u2068שדה\u2069 12")).toEqual(["fibre \u2068", "שדה", "\u2069 12"]);
  });
});

test("brackets in a word from right to left look the other way; signs alone are put in order", () => {
  expect(mirrored("(ראה")).toBe(")ראה");
  expect(mirrored("):")).toBe(":(");
});
