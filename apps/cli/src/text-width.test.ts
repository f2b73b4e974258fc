import { describe, expect, test } from "vitest";
import { padded, textWidth } from "./text-width.ts";

describe("the width of a text on a terminal", () => {
  test.each([
    ["", 0],
    ["Ω 0.6123(21)", 12],
    ["q̂_blue", 6],
    ["●○◐✕▲", 5],
    ["小照射野", 8],
    ["e\u0301", 1],
    ["⚡", 2],
  ])("of %j is %d", (text, width) => {
    expect(textWidth(text)).toBe(width);
  });

  test("is what texts are filled up to, on either side, and never cut to", () => {
    expect(padded("q̂", 3)).toBe("q̂  ");
    expect(padded("q̂", 3, "right")).toBe("  q̂");
    expect(padded("longer", 3)).toBe("longer");
  });
});
