import { describe, expect, it } from "vitest";
import { normalisedError } from "./normalised-error.ts";

describe("normalised error", () => {
  it("STAT-12: E_n is the difference over the root sum of squares of the expanded uncertainties", () => {
    // Definition and criterion: ISO 13528, V. Value: computed, C.
    const comparison = normalisedError(10.3, 0.25, 10.0, 0.1);
    expect(comparison.en).toBeCloseTo(1.114172, 6);
    expect(comparison.satisfactory).toBe(false);
  });

  it("STAT-12: E_n of one, either way round, is still satisfactory", () => {
    expect(normalisedError(5, 3, 0, 4)).toEqual({ en: 1, satisfactory: true });
    expect(normalisedError(0, 3, 5, 4)).toEqual({ en: -1, satisfactory: true });
    expect(normalisedError(0, 3, 5.0001, 4).satisfactory).toBe(false);
  });

  it("STAT-12: one result may be exact, but not both, and nothing else may be missing", () => {
    expect(normalisedError(2, 0, 1, 2).en).toBe(0.5);
    expect(() => normalisedError(2, 0, 1, 0)).toThrow("both expanded uncertainties are zero");
    expect(() => normalisedError(2, -1, 1, 1)).toThrow("zero or above, but -1 was given");
    expect(() => normalisedError(2, 1, 1, Number.NaN)).toThrow(RangeError);
    expect(() => normalisedError(Number.NaN, 1, 1, 1)).toThrow("two finite results");
  });
});
