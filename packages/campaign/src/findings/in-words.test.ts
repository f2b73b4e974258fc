import { describe, expect, it } from "vitest";
import { list, percent, significant } from "./in-words.ts";

describe("numbers in messages", () => {
  it("a fraction is a percentage with the first two digits that count", () => {
    expect([0.0034123, 0.12, 0, -0.0081, 1, 0.000012345].map(percent)).toEqual([
      "0.34 %",
      "12 %",
      "0 %",
      "−0.81 %",
      "100 %",
      "0.0012 %",
    ]);
  });

  it("a number has so many significant digits, and no exponent where that reads well", () => {
    expect(significant(25.80645, 4)).toBe("25.81");
    expect(significant(-1.33333, 5)).toBe("−1.3333");
    expect(significant(123456, 3)).toBe("123000");
    expect(significant(1e-9, 2)).toBe("1e−9");
    expect(significant(0, 3)).toBe("0");
    expect(significant(Number.POSITIVE_INFINITY, 3)).toBe("Infinity");
  });

  it("names are joined as one would say them, and beyond six the rest is counted", () => {
    expect(list([])).toBe("");
    expect(list(["a"])).toBe("a");
    expect(list(["a", "b"])).toBe("a and b");
    expect(list(["a", "b", "c"])).toBe("a, b and c");
    expect(list(["a", "b", "c", "d", "e", "f"])).toBe("a, b, c, d, e and f");
    expect(list(["a", "b", "c", "d", "e", "f", "g", "h"])).toBe("a, b, c, d, e and 3 more");
  });
});
