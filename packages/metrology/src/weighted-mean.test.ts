import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dersimonianLaird, mandelPaule, weightedMean } from "./weighted-mean.ts";

// checks: weighted mean and consistency, C.
const VALUES = [10.0, 10.2, 9.9, 10.6];
const UNCERTAINTIES = [0.1, 0.2, 0.1, 0.2];

const result = fc.double({ min: -100, max: 100, noNaN: true });
// Within three orders of magnitude: beyond, one result is the mean and nothing is left to test.
const uncertainty = fc.double({ min: 0.01, max: 10, noNaN: true });
const results = fc.array(fc.tuple(result, uncertainty), { minLength: 2, maxLength: 12 });

describe("weighted mean", () => {
  it("STAT-9: mean, uncertainty, chi-square and Birge ratio are those of the worked example", () => {
    const mean = weightedMean(VALUES, UNCERTAINTIES);
    expect(mean.mean).toBeCloseTo(10.04, 12);
    expect(mean.u).toBeCloseTo(0.0632456, 7);
    expect(mean.chiSquare).toBeCloseTo(10.6, 11);
    expect(mean.dof).toBe(3);
    expect(mean.p).toBeCloseTo(0.0140977, 7);
    expect(mean.birgeRatio).toBeCloseTo(1.879716, 6);
    expect(mean.scaledU).toBeCloseTo(0.1188837, 7);
  });

  it("STAT-9: results in closer agreement than stated do not shrink the uncertainty", () => {
    const mean = weightedMean([1, 1.01, 0.99], [0.5, 0.5, 0.5]);
    expect(mean.birgeRatio!).toBeLessThan(1);
    expect(mean.scaledU).toBe(mean.u);
  });

  it("STAT-9: a single result is its own mean, with nothing to test", () => {
    expect(weightedMean([3.2], [0.4])).toEqual({
      mean: 3.2,
      u: 0.4,
      chiSquare: 0,
      dof: 0,
      p: null,
      birgeRatio: null,
      scaledU: 0.4,
    });
  });

  it("STAT-9: equal uncertainties give the plain mean, and u falls as the root of the number", () => {
    const mean = weightedMean([1, 2, 3, 6], [0.3, 0.3, 0.3, 0.3]);
    expect(mean.mean).toBeCloseTo(3, 14);
    expect(mean.u).toBeCloseTo(0.15, 14);
  });

  it("STAT-9: a common shift of the results shifts the mean and nothing else", () => {
    fc.assert(
      fc.property(results, fc.integer({ min: -1000, max: 1000 }), (list, shift) => {
        const us = list.map(([, u]) => u);
        const plain = weightedMean(
          list.map(([v]) => v),
          us,
        );
        const shifted = weightedMean(
          list.map(([v]) => v + shift),
          us,
        );
        expect(shifted.mean - shift).toBeCloseTo(plain.mean, 9);
        expect(shifted.u).toBe(plain.u);
        expect(Math.abs(shifted.chiSquare - plain.chiSquare)).toBeLessThan(1e-6 * (1 + plain.chiSquare));
      }),
    );
  });

  it("STAT-11: a result that is not finite or has no uncertainty is refused by its place", () => {
    expect(() => weightedMean([], [])).toThrow("At least 1 result is needed, but 0 given.");
    expect(() => weightedMean([1, 2], [0.1])).toThrow("2 results but 1 standard uncertainties");
    expect(() => weightedMean([1, Number.NaN], [0.1, 0.1])).toThrow("Result 2 is NaN");
    expect(() => weightedMean([1, 2], [0.1, 0])).toThrow("Result 2 has standard uncertainty 0");
    expect(() => weightedMean([1, 2], [-0.1, 1])).toThrow("Result 1 has standard uncertainty -0.1");
    expect(() => dersimonianLaird([1], [0.1])).toThrow("At least 2 results are needed, but 1 given.");
    expect(() => mandelPaule([1], [0.1])).toThrow(RangeError);
  });
});

describe("variance between results", () => {
  it("STAT-10: DerSimonian and Laird's variance, mean and uncertainty are those of the worked example", () => {
    const mean = dersimonianLaird(VALUES, UNCERTAINTIES);
    expect(mean.tau2).toBeCloseTo(0.0460606, 7);
    expect(mean.mean).toBeCloseTo(10.1275053, 7);
    expect(mean.u).toBeCloseTo(0.1302827, 7);
  });

  it("STAT-10: Mandel and Paule's variance, mean and uncertainty are those of the worked example", () => {
    const mean = mandelPaule(VALUES, UNCERTAINTIES);
    expect(mean.tau2).toBeCloseTo(0.0674329, 7);
    expect(mean.mean).toBeCloseTo(10.138487, 7);
    expect(mean.u).toBeCloseTo(0.149999, 7);
  });

  it("STAT-10: with Mandel and Paule's variance chi-square is the degrees of freedom, or there is none to add", () => {
    fc.assert(
      fc.property(results, (list) => {
        const values = list.map(([v]) => v);
        const us = list.map(([, u]) => u);
        const { tau2 } = mandelPaule(values, us);
        const widened = weightedMean(
          values,
          us.map((u) => Math.sqrt(u * u + tau2)),
        );
        if (tau2 > 0) expect(Math.abs(widened.chiSquare / widened.dof - 1)).toBeLessThan(1e-9);
        else expect(widened.chiSquare).toBeLessThanOrEqual(widened.dof);
      }),
      { numRuns: 300 },
    );
  });

  it("STAT-10: equal uncertainties make both estimates the variance of the results less the stated one", () => {
    const values = [1, 2, 3, 6];
    const variance = 14 / 3; // Σ(v − 3)²/3
    for (const estimate of [dersimonianLaird, mandelPaule]) {
      expect(estimate(values, [0.5, 0.5, 0.5, 0.5]).tau2).toBeCloseTo(variance - 0.25, 12);
    }
  });

  it("STAT-10: results that agree have no variance between them and the plain weighted mean", () => {
    const plain = weightedMean([1, 1.1, 0.9], [0.2, 0.3, 0.4]);
    for (const estimate of [dersimonianLaird, mandelPaule]) {
      const mean = estimate([1, 1.1, 0.9], [0.2, 0.3, 0.4]);
      expect(mean.tau2).toBe(0);
      expect(mean.mean).toBe(plain.mean);
      expect(mean.u).toBe(plain.u);
    }
  });
});
