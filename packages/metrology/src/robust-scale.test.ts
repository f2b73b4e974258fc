import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { normalQuantile } from "./distributions.ts";
import { madSigma, median, SIGMA_PER_MAD } from "./robust-scale.ts";

const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 30 });

describe("robust scale", () => {
  it("STAT-13: the factor from MAD to σ is 1.482602218506", () => {
    // checks, C; and 1/Φ⁻¹(¾) by our own quantile.
    expect(SIGMA_PER_MAD).toBeCloseTo(1.482602218506, 12);
    expect(SIGMA_PER_MAD * normalQuantile(0.75)).toBeCloseTo(1, 15);
  });

  it("STAT-13: the median is the middle value, or the mean of the middle two, in numerical order", () => {
    expect(median([10, 9, 100])).toBe(10);
    expect(median([10, 9, 100, 1])).toBe(9.5);
    expect(median([-3])).toBe(-3);
  });

  it("STAT-13: the smallest and the largest numbers keep their median", () => {
    // Found by a property test: halves of the smallest numbers round away.
    expect(median([-1.5e-323, -1.5e-323])).toBe(-1.5e-323);
    expect(median([1.5e308, 1.7e308])).toBe(1.6e308);
  });

  it("STAT-13: the values stay in their order", () => {
    const list = [3, 1, 2];
    median(list);
    madSigma(list);
    expect(list).toEqual([3, 1, 2]);
  });

  it("STAT-13: σ from the MAD of one to five is 1.48", () => {
    expect(madSigma([1, 2, 3, 4, 5])).toBeCloseTo(SIGMA_PER_MAD, 15);
    expect(madSigma([1, 2, 3, 4, 1e9])).toBeCloseTo(SIGMA_PER_MAD, 15);
    expect(madSigma([7, 7, 7, 9])).toBe(0);
  });

  it("STAT-13: as many values lie above the median as below", () => {
    fc.assert(
      fc.property(values, (list) => {
        const middle = median(list);
        const below = list.filter((value) => value < middle).length;
        const above = list.filter((value) => value > middle).length;
        expect(Math.max(below, above)).toBeLessThanOrEqual(list.length / 2);
      }),
    );
  });

  it("STAT-13: σ follows a change of unit and ignores an offset", () => {
    // Integers, so that shifting and scaling are exact.
    const integers = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(integers, fc.integer({ min: -50, max: 50 }), (list, offset) => {
        expect(madSigma(list.map((value) => -8 * value + offset))).toBe(8 * madSigma(list));
      }),
    );
  });

  it("STAT-13: no values, and values that are not finite, are refused by place", () => {
    expect(() => median([])).toThrow("at least one value");
    expect(() => madSigma([1, Number.NaN])).toThrow("Value 2 is NaN, not a finite number.");
  });
});
