import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { savitzkyGolay } from "./savitzky-golay.ts";

// A. Savitzky and M. J. E. Golay, Anal. Chem. 36, 1627 (1964), quadratic smoothing: numerators over a norm. checks, C.
const SMOOTHING: readonly [number, number[], number, number][] = [
  [5, [-3, 12, 17, 12, -3], 35, 0.696932],
  [7, [-2, 3, 6, 7, 6, 3, -2], 21, 0.57735],
  [9, [-21, 14, 39, 54, 59, 54, 39, 14, -21], 231, 0.505382],
];

// First derivative of a quadratic: i over a norm. checks, C.
const SLOPE: readonly [number, number][] = [
  [5, 10],
  [7, 28],
  [9, 60],
];

const close = (got: readonly number[], wanted: readonly number[]): void => {
  expect(got.length).toBe(wanted.length);
  wanted.forEach((value, i) => {
    expect(got[i]!).toBeCloseTo(value, 14);
  });
};

describe("Savitzky–Golay filters", () => {
  it.each(SMOOTHING)(
    "FILT-1: %i points of a quadratic have the published weights and noise gain",
    (points, w, n, gain) => {
      const filter = savitzkyGolay({ points, order: 2 });
      close(
        filter.weights,
        w.map((value) => value / n),
      );
      expect(filter.noiseGain).toBeCloseTo(gain, 6);
    },
  );

  it.each(SMOOTHING)("FILT-1: %i points of a cubic smooth like a quadratic", (points) => {
    close(savitzkyGolay({ points, order: 3 }).weights, savitzkyGolay({ points, order: 2 }).weights);
  });

  it.each(SLOPE)("FILT-1: %i points of a quadratic have the published slope weights", (points, divisor) => {
    const half = (points - 1) / 2;
    close(
      savitzkyGolay({ points, order: 2, derivative: 1 }).weights,
      Array.from({ length: points }, (_, i) => (i - half) / divisor),
    );
  });

  it("FILT-1: order zero is the plain mean and one point is the sample itself", () => {
    close(savitzkyGolay({ points: 5, order: 0 }).weights, [0.2, 0.2, 0.2, 0.2, 0.2]);
    close(savitzkyGolay({ points: 1, order: 0 }).weights, [1]);
  });

  it("FILT-2: a polynomial of the filter's order comes out unchanged, and so do its derivatives", () => {
    const half = fc.integer({ min: 2, max: 12 });
    const coefficient = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        half,
        fc.tuple(coefficient, coefficient, coefficient, coefficient, coefficient),
        fc.integer({ min: 0, max: 4 }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (m, c, derivative, place) => {
          const points = 2 * m + 1;
          const at = place * m;
          // Samples of Σ c_k (t/m)^k, and its derivative by Horner's rule on shifted factors.
          const polynomial = (t: number, d: number): number => {
            let value = 0;
            for (let k = 4; k >= d; k--) {
              let factor = c[k]!;
              for (let j = 0; j < d; j++) factor *= (k - j) / m;
              value = value * (t / m) + factor;
            }
            return value;
          };
          const { weights } = savitzkyGolay({ points, order: 4, derivative, position: at });
          const output = weights.reduce((sum, weight, i) => sum + weight * polynomial(i - m, 0), 0);
          // Order four over five points and more: magnitudes stay below about 100, so rounding below 1e-12.
          expect(output).toBeCloseTo(polynomial(at, derivative), 11);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("FILT-2: smoothing weights sum to one and derivative weights to zero", () => {
    for (const points of [5, 25, 51]) {
      const sum = (weights: readonly number[]): number => weights.reduce((total, weight) => total + weight, 0);
      expect(sum(savitzkyGolay({ points, order: 4 }).weights)).toBeCloseTo(1, 13);
      expect(sum(savitzkyGolay({ points, order: 4, derivative: 2 }).weights)).toBeCloseTo(0, 13);
    }
  });

  it("FILT-3: the noise gain squared of a smoothing filter is its middle weight", () => {
    // A projection: w·w = w at the point of evaluation.
    for (const points of [5, 9, 21]) {
      const { weights, noiseGain } = savitzkyGolay({ points, order: 2 });
      expect(noiseGain * noiseGain).toBeCloseTo(weights[(points - 1) / 2]!, 14);
    }
  });

  it("FILT-3: at the end of the window the noise gain is larger than in its middle", () => {
    const middle = savitzkyGolay({ points: 7, order: 2 }).noiseGain;
    const end = savitzkyGolay({ points: 7, order: 2, position: 3 });
    expect(end.noiseGain).toBeGreaterThan(middle);
    // Quadratic through seven points at its last: [5 −3 −6 −4 3 15 32]/42, by exact rationals (C).
    close(
      end.weights,
      [5, -3, -6, -4, 3, 15, 32].map((value) => value / 42),
    );
  });

  it("FILT-4: a window, order, derivative or position that cannot be is refused with its limits", () => {
    expect(() => savitzkyGolay({ points: 4, order: 2 })).toThrow("an odd number of points, but 4 was given");
    expect(() => savitzkyGolay({ points: 5.5, order: 2 })).toThrow(RangeError);
    expect(() => savitzkyGolay({ points: 5, order: 5 })).toThrow("an order from 0 to 4, but 5 was given");
    expect(() => savitzkyGolay({ points: 5, order: 2, derivative: 3 })).toThrow("derivatives 0 to 2, but 3");
    expect(() => savitzkyGolay({ points: 5, order: 2, position: 2.1 })).toThrow("outside the window of 5 points");
  });
});
