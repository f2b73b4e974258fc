import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { editDistance, nearestKey } from "./nearest-key.ts";

const word = fc.string({ maxLength: 12 });

describe("the edit distance", () => {
  test.each([
    ["", "", 0],
    ["", "abc", 3],
    ["kitten", "sitting", 3],
    ["depth", "depht", 1],
    ["signal_blue", "signal_bleu", 1],
    ["ca", "abc", 3],
  ])("from %j to %j is %i", (a, b, steps) => {
    // "kitten" to "sitting": Levenshtein's 3; "ca" to "abc": 3 under optimal string alignment (2 without the restriction).
    expect(editDistance(a, b)).toBe(steps);
  });

  test("is nil for the same word, symmetric, and at most the longer word's length", () => {
    fc.assert(
      fc.property(word, word, (a, b) => {
        const steps = editDistance(a, b);
        expect(editDistance(a, a)).toBe(0);
        expect(editDistance(b, a)).toBe(steps);
        expect(steps).toBeGreaterThanOrEqual(Math.abs(a.length - b.length));
        expect(steps).toBeLessThanOrEqual(Math.max(a.length, b.length));
        if (a !== b) expect(steps).toBeGreaterThan(0);
      }),
    );
  });

  test("is quick for words of a million letters", () => {
    expect(editDistance("a".repeat(1_000_000), "b".repeat(1_000_000))).toBe(80);
  });
});

describe("the nearest key", () => {
  const known = ["depth_mm", "ssd_mm", "energy_MV"];

  test("is the one with the fewest steps, letter case aside", () => {
    expect(nearestKey("dept_mm", known)).toBe("depth_mm");
    expect(nearestKey("Energy_mv", known)).toBe("energy_MV");
  });

  test("is the first of equals", () => {
    expect(nearestKey("b", ["a", "c"])).toBeUndefined();
    expect(nearestKey("ab", ["aa", "bb"])).toBe("aa");
  });

  test("is none where more than half of the letters would change", () => {
    expect(nearestKey("operator", known)).toBeUndefined();
    expect(nearestKey("x", [])).toBeUndefined();
  });
});
