import { describe, expect, it } from "vitest";
import { finiteTrials, intervalsOf, momentsOf } from "./trial-statistics.ts";

describe("statistics of trials", () => {
  it("MC-8: mean and standard deviation with M − 1 (C)", () => {
    // 1, 2, 3, 4: mean 2.5, sum of squares 5, over 3
    const { mean, u } = momentsOf(Float64Array.of(4, 1, 3, 2), 0);
    expect(mean).toBe(2.5);
    expect(u).toBeCloseTo(Math.sqrt(5 / 3), 15);
  });

  it("MC-8: they keep their digits far from zero", () => {
    // 50 000 838 and ±31: the end gauge of the GUM
    const values = Float64Array.from({ length: 1000 }, (_, i) => 50_000_838 + (i % 2 === 0 ? 31 : -31) * 2 ** -10);
    const { mean, u } = momentsOf(values, 50_000_838);
    expect(mean).toBe(50_000_838);
    expect(u).toBeCloseTo(31 * 2 ** -10 * Math.sqrt(1000 / 999), 14);
    // and where "near" is not near, almost all of them
    expect(momentsOf(values, 50_000_000).u).toBeCloseTo(u, 12);
  });

  it("MC-8: trials that are all alike have no standard deviation", () => {
    expect(momentsOf(new Float64Array(1000).fill(0.1), 0.1)).toEqual({ mean: 0.1, u: 0 });
    expect(momentsOf(new Float64Array(1000).fill(0.1), 7).u).toBeLessThan(1e-15);
  });

  it("MC-6: failed trials are left out: what is no number, and what is infinite", () => {
    const values = Float64Array.of(1, Number.NaN, 2, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 3);
    expect([...finiteTrials(values)]).toEqual([1, 2, 3]);
    const whole = Float64Array.of(1, 2);
    expect(finiteTrials(whole)).toBe(whole);
  });

  it("MC-6: of too few trials there is no interval, and no standard deviation", () => {
    expect(intervalsOf(new Float64Array(10), 0.95)).toBeNull();
    expect(intervalsOf(new Float64Array(11), 0.95)).toEqual({
      symmetric: { low: 0, high: 0 },
      shortest: { low: 0, high: 0 },
    });
    expect(() => momentsOf(Float64Array.of(1), 0)).toThrow("not 1");
  });
});
