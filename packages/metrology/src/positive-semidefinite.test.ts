import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isPositiveSemidefinite } from "./positive-semidefinite.ts";

const square = (rows: readonly (readonly number[])[]) => [rows.flat(), rows.length] as const;

describe("a covariance", () => {
  it("is possible where it comes from data: B·Bᵀ has no negative variance in it, whatever B is", () => {
    // below some 1e-150 the products have no digits left, and nothing that is measured is so small
    const entry = fc.double({ min: -10, max: 10, noNaN: true }).map((x) => (Math.abs(x) < 1e-100 ? 0 : x));
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), fc.array(entry, { minLength: 15, maxLength: 15 }), (n, b) => {
        const columns = 3; // so that larger ones are singular
        const rows = Array.from({ length: n }, (_, i) => b.slice(i * columns, (i + 1) * columns));
        const product = rows.map((row) => rows.map((other) => row.reduce((sum, x, k) => sum + x * other[k]!, 0)));
        expect(isPositiveSemidefinite(...square(product))).toBe(true);
      }),
    );
  });

  it("is impossible where three correlations contradict each other, though each lies within one", () => {
    // 0.9, 0.9 and −0.9: the determinant is 1 + 2·(−0.729) − 3·0.81 < 0 (computed)
    const contradicting = [
      [1, 0.9, 0.9],
      [0.9, 1, -0.9],
      [0.9, -0.9, 1],
    ];
    expect(isPositiveSemidefinite(...square(contradicting))).toBe(false);
    const inUnits = contradicting.map((row, i) =>
      row.map((entry, j) => entry * [1e-9, 1, 1e6][i]! * [1e-9, 1, 1e6][j]!),
    );
    expect(isPositiveSemidefinite(...square(inUnits))).toBe(false);
  });

  it("of exact elements is possible, and of an exact element with a correlation is not", () => {
    expect(isPositiveSemidefinite([0, 0, 0, 0], 2)).toBe(true);
    expect(isPositiveSemidefinite([0, 0, 0, 4], 2)).toBe(true);
    expect(isPositiveSemidefinite([0, 1, 1, 4], 2)).toBe(false);
  });

  it("may be rounded: a full correlation in six decimals", () => {
    expect(isPositiveSemidefinite([0.33333, 0.33334, 0.33334, 0.33333], 2)).toBe(false);
    expect(isPositiveSemidefinite([0.333333, 0.3333333, 0.3333333, 0.333333], 2)).toBe(true);
  });
});
