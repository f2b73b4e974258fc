import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chiSquareUpper, coverageFactor, fUpper, normalCdf, normalQuantile, tCdf, tQuantile } from "./distributions.ts";

const relativeError = (got: number, wanted: number): number => Math.abs(got / wanted - 1);

describe("normal distribution", () => {
  // p, z: computed with mpmath at 40 digits, C.
  it.each([
    [0.2, -0.8416212335729142],
    [0.025, -1.9599639845400543],
    [0.001, -3.0902323061678136],
    [1e-10, -6.361340902404057],
    [1e-40, -13.31092137142517],
    [1e-300, -37.0470962993612],
    [0.6, 0.2533471031357997],
    [0.9999, 3.7190164854557084],
  ])("DIST-4: the normal quantile of %f is right into the far tail", (p, z) => {
    expect(relativeError(normalQuantile(p), z)).toBeLessThan(2e-15);
  });

  it("DIST-4: the smallest number above zero has a finite quantile, as good as that number is", () => {
    // 38.467405617 by mpmath, C. The number itself stands for all between half and one and a half of it.
    expect(normalQuantile(5e-324)).toBeCloseTo(-38.4674, 3);
  });

  it("DIST-4: the normal quantile has its ends and its middle", () => {
    expect(normalQuantile(0)).toBe(-Infinity);
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(1)).toBe(Infinity);
  });

  it("DIST-4: distribution function and quantile of the normal undo each other", () => {
    // The upper tail is left out: there 1 − p has lost the digits that z would need.
    fc.assert(
      fc.property(fc.double({ min: -37, max: 2, noNaN: true }), (z) => {
        expect(normalQuantile(normalCdf(z))).toBeCloseTo(z, 13);
      }),
      { numRuns: 300 },
    );
  });
});

describe("t distribution", () => {
  // checks: t tables at 95 % and 99 %, C (GUM Table G.2 prints fewer digits).
  it.each([
    [0.95, 1, 12.706205],
    [0.95, 5, 2.570582],
    [0.95, 10, 2.228139],
    [0.95, 16, 2.119905],
    [0.95, 19, 2.093024],
    [0.95, 20, 2.085963],
    [0.95, 50, 2.008559],
    [0.95, Infinity, 1.959964],
    [0.99, 10, 3.169273],
    [0.99, 16, 2.920782],
  ])("DIST-5: t for %f at %f degrees of freedom is the tables'", (probability, dof, t) => {
    expect(Math.abs(coverageFactor(probability, dof) - t)).toBeLessThan(5e-7);
    expect(Math.abs(tQuantile((1 + probability) / 2, dof) - t)).toBeLessThan(5e-7);
  });

  // Real-valued degrees of freedom and far tails: computed with mpmath at 40 digits, C.
  it.each([
    [0.025, 16.6561, -2.113138817000368],
    [0.025, 18.9987, -2.09303374775787],
    [0.005, 16.6561, -2.905646501174704],
    [1e-10, 3.7, -622.7508025168837],
    [1e-6, 1.5, -5219.469324706946],
    [0.1, 0.5, -10.270324410234505],
    [0.025, 123456.7, -1.9599832001362325],
    // Above a million, by the expansion about the normal; the first so far out that all its terms count.
    [1e-300, 2e6, -37.0534576749897],
    [1e-100, 1e7, -21.27369478284828],
    [0.005, 1.2e6, -2.575833400678035],
  ])("DIST-5: the t quantile of %f at %f degrees of freedom keeps 13 digits", (p, dof, t) => {
    expect(relativeError(tQuantile(p, dof), t)).toBeLessThan(1e-13);
    // The upper tail, where 1 − p can still hold it.
    if (p > 1e-5) expect(relativeError(tQuantile(1 - p, dof), -t)).toBeLessThan(1e-11);
  });

  it("DIST-5: one degree of freedom is Cauchy's distribution, with quantile −cot πp", () => {
    // tan of π/8 and of π/12, exact: √2 − 1 and 2 − √3.
    expect(relativeError(tQuantile(0.125, 1), -(Math.SQRT2 + 1))).toBeLessThan(1e-14);
    expect(relativeError(tQuantile(1 / 12, 1), -(2 + Math.sqrt(3)))).toBeLessThan(1e-14);
  });

  it("DIST-5: the t quantile passes smoothly to the normal one as the degrees of freedom grow without limit", () => {
    for (const p of [1e-12, 0.005, 0.025, 0.3]) {
      const z = normalQuantile(p);
      for (const dof of [999_999, 1_000_001, 1e9, 1e20, 1e300]) {
        // Leading term of the expansion about the normal, (z³ + z)/4ν, is all there is beyond a million.
        const leading = (z * z * z + z) / (4 * dof);
        expect(Math.abs(tQuantile(p, dof) - z - leading)).toBeLessThan(3e-12 * Math.abs(z * z * z));
      }
      expect(tQuantile(p, Infinity)).toBe(z);
      expect(relativeError(tQuantile(p, 1_000_000), tQuantile(p, 1_000_001))).toBeLessThan(1e-10);
    }
  });

  // Computed with mpmath at 40 digits, C.
  it.each([
    [-1, 1, 0.25],
    [-1e-8, 1, 0.49999999681690116],
    [-2.5, 3.3, 0.04002641815417723],
    [-9, 30, 2.507415958073939e-10],
    [-30, 1000, 7.687343722021741e-142],
    [-1e6, 0.5, 0.00032070097541419884],
    [-0.3, 16.6561, 0.3839444562131813],
  ])("DIST-6: the probability of t below %f at %f degrees of freedom is right in the tail", (t, dof, p) => {
    expect(relativeError(tCdf(t, dof), p)).toBeLessThan(1e-13);
    expect(tCdf(-t, dof)).toBeCloseTo(1 - p, 14);
  });

  it("DIST-6: the t distribution function has its ends and its limit", () => {
    expect(tCdf(0, 3)).toBe(0.5);
    expect(tCdf(-Infinity, 3)).toBe(0);
    expect(tCdf(Infinity, 3)).toBe(1);
    expect(tCdf(-1e200, 3)).toBe(0);
    expect(tCdf(-2, Infinity)).toBe(normalCdf(-2));
    expect(relativeError(tCdf(-2, 1e12), normalCdf(-2))).toBeLessThan(1e-11);
  });

  it("DIST-6: distribution function and quantile of t undo each other at real-valued degrees of freedom", () => {
    const dof = fc.double({ min: 0.5, max: 500, noNaN: true });
    const p = fc.double({ min: 1e-12, max: 0.499, noNaN: true });
    fc.assert(
      fc.property(p, dof, (probability, nu) => {
        expect(relativeError(tCdf(tQuantile(probability, nu), nu), probability)).toBeLessThan(1e-11);
      }),
      { numRuns: 500 },
    );
  });
});

describe("chi-square distribution", () => {
  // Computed with mpmath at 40 digits, C.
  it.each([
    [3.84, 1, 0.050043521248705106],
    [10.6, 3, 0.01409765951310599],
    [11.866353, 8, 0.15726723764230868],
    [100, 4, 9.83662422461598e-21],
    [1000, 4, 3.5694127797773843e-215],
    [7.3, 2.5, 0.0419534598185198],
    [180, 100, 1.6494985017178249e-6],
    [0.01, 0.7, 0.8245612774340781],
    [2200, 2000, 0.0010593232539299773],
    [2295, 2000, 4.034269990770496e-6],
    [3000, 1000, 1.6436845843569544e-198],
    [3900, 4000, 0.8686473630432853],
    [101000, 100000, 0.01286884037723367],
  ])("DIST-7: the upper tail of chi-square beyond %f at %f degrees of freedom keeps 13 digits", (x, dof, p) => {
    expect(relativeError(chiSquareUpper(x, dof), p)).toBeLessThan(2e-13);
  });

  it("DIST-7: one degree of freedom is the square of a normal", () => {
    for (const z of [0.1, 1, 2, 5, 12, 30]) {
      expect(relativeError(chiSquareUpper(z * z, 1), 2 * normalCdf(-z))).toBeLessThan(1e-13);
    }
    expect(chiSquareUpper(0, 5)).toBe(1);
    expect(chiSquareUpper(Infinity, 5)).toBe(0);
  });
});

describe("F distribution", () => {
  // Computed with mpmath at 40 digits, C.
  it.each([
    [4, 2, 10, 0.05292214940134465],
    [1, 3, 3, 0.5],
    [0.5, 2, 7, 0.6266545330387997],
    [30, 2, 4.5, 0.00250160535596479],
    [200, 6, 50, 3.6537703776856835e-33],
    [1e4, 3, 8, 1.2429853502454345e-14],
    [2.5, 1.5, 40, 0.10810656666976436],
  ])("DIST-8: the upper tail of F beyond %f at %f and %f degrees of freedom keeps 13 digits", (x, dof1, dof2, p) => {
    expect(relativeError(fUpper(x, dof1, dof2), p)).toBeLessThan(2e-13);
  });

  it("DIST-8: with one degree of freedom in the numerator F is the square of t", () => {
    const dof = fc.double({ min: 0.5, max: 200, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 50, noNaN: true }), dof, (t, nu) => {
        expect(relativeError(fUpper(t * t, 1, nu), 2 * tCdf(-t, nu))).toBeLessThan(1e-12);
      }),
    );
  });

  it("DIST-8: exchanging numerator and denominator takes the other tail", () => {
    const dof = fc.double({ min: 0.5, max: 200, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 100, noNaN: true }), dof, dof, (x, a, b) => {
        expect(fUpper(x, a, b) + fUpper(1 / x, b, a)).toBeCloseTo(1, 11);
      }),
    );
  });

  it("DIST-8: a denominator known exactly turns F into chi-square over its degrees of freedom", () => {
    expect(fUpper(1.5, 6, Infinity)).toBe(chiSquareUpper(9, 6));
    expect(relativeError(fUpper(1.5, 6, 1e14), chiSquareUpper(9, 6))).toBeLessThan(1e-11);
    expect(fUpper(Infinity, 2, 3)).toBe(0);
    expect(fUpper(0, 2, 3)).toBe(1);
  });
});

describe("coverage factor", () => {
  it("DIST-9: the coverage factor is t at the unrounded effective degrees of freedom", () => {
    // GUM H.1: 2.92 at ν 16 (V2), 2.920782 (C); at the unrounded 16.6561 it is 2.9056 (mpmath, C).
    expect(coverageFactor(0.99, 16)).toBeCloseTo(2.920782, 6);
    expect(coverageFactor(0.99, 16.6561)).toBeCloseTo(2.9056465, 7);
    expect(coverageFactor(0.95, Infinity)).toBeCloseTo(1.9599639845, 10);
  });

  it("DIST-9: the coverage factor falls as the degrees of freedom grow", () => {
    const dof = [0.8, 1, 1.5, 2, 3.7, 5, 10, 30.5, 200, 1e4, 1e6, 2e6, 1e9, Infinity];
    const factors = dof.map((nu) => coverageFactor(0.95, nu));
    for (let i = 1; i < factors.length; i++) expect(factors[i]!).toBeLessThan(factors[i - 1]!);
  });
});

describe("refusals", () => {
  it("DIST-10: a probability outside its range, or degrees of freedom not above zero, are refused by name", () => {
    expect(() => normalQuantile(1.2)).toThrow("A probability lies from 0 to 1, but 1.2 was given.");
    expect(() => normalQuantile(Number.NaN)).toThrow(RangeError);
    expect(() => tQuantile(-0.1, 5)).toThrow(RangeError);
    expect(() => tQuantile(0.9, 0)).toThrow("degrees of freedom above zero, but 0 was given");
    expect(() => tCdf(1, -2)).toThrow(RangeError);
    expect(() => tCdf(Number.NaN, 2)).toThrow("not a number");
    expect(() => chiSquareUpper(-1, 2)).toThrow("A chi-square value is zero or above, but -1 was given.");
    expect(() => chiSquareUpper(1, Infinity)).toThrow("finite degrees of freedom");
    expect(() => fUpper(1, Infinity, 2)).toThrow("numerator");
    expect(() => fUpper(1, 2, Number.NaN)).toThrow("denominator");
    expect(() => fUpper(Number.NaN, 2, 3)).toThrow("A variance ratio");
    expect(() => coverageFactor(1, 5)).toThrow("between 0 and 1, such as 0.95");
    expect(() => coverageFactor(95, 5)).toThrow(RangeError);
  });
});
