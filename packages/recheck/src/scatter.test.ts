import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { columnMeans, seriesScatter } from "./scatter.ts";

const repeats = (...rows: number[][]) => ({ rows, digits: rows[0]!.map(() => 0) });

describe("the scatter of a series", () => {
  it("pools relative covariances and gives each condition its own in its own units", () => {
    // Relative deviations ±1 % (both channels alike) twice, and ±2 % in the second channel alone: worked by hand.
    const { means, covariances } = seriesScatter(
      [
        {
          rows: [
            [99, 198],
            [101, 202],
          ],
          digits: [1, 1],
        },
        {
          rows: [
            [10, 4.9],
            [10, 5.1],
          ],
          digits: [0.1, 0.1],
        },
      ],
      "relative",
      2,
    );
    expect(means).toEqual([
      [100, 200],
      [10, 5],
    ]);
    // Sums of products over two degrees of freedom: (2e-4, 2e-4; 2e-4, 2e-4 + 8e-4)/2.
    const one = covariances[0]!;
    expect(one[0]![0]).toBeCloseTo((1e-4 * 100 * 100) / 2, 12);
    expect(one[0]![1]).toBeCloseTo((1e-4 * 100 * 200) / 2, 12);
    expect(one[1]![1]).toBeCloseTo((5e-4 * 200 * 200) / 2, 12);
    expect(covariances[1]![1]![1]).toBeCloseTo((5e-4 * 5 * 5) / 2, 12);
  });

  it("of one condition is that of its mean, relative or absolute", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 1, max: 2, noNaN: true }), { minLength: 2, maxLength: 6 }), (values) => {
        const rows = values.map((value) => [value]);
        const mean = columnMeans(rows)[0]!;
        const expected = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1) / values.length;
        for (const scale of ["relative", "absolute"] as const) {
          const { covariances } = seriesScatter([repeats(...rows)], scale, 1);
          expect(covariances[0]![0]![0]).toBeCloseTo(expected, 12);
        }
      }),
    );
  });

  it("is absolute where a mean is not above zero", () => {
    const dark = [repeats([1e-3], [-1e-3]), repeats([5 - 1e-3], [5 + 1e-3])];
    const { covariances } = seriesScatter(dark, "relative", 1);
    expect(covariances[0]![0]![0]).toBeCloseTo(1e-6, 15);
    expect(covariances[1]![0]![0]).toBeCloseTo(1e-6, 12);
  });

  it("is nothing where nothing was repeated", () => {
    expect(seriesScatter([repeats([1, 2]), repeats([3, 4])], "relative", 2).covariances[1]).toEqual([
      [0, 0],
      [0, 0],
    ]);
  });

  it("leaves an uneven condition its own covariance, and out of the pool, but not out of the weights", () => {
    const quiet = Array.from({ length: 8 }, () => repeats([100], [100.1], [99.9], [100]));
    const { covariances, pooled } = seriesScatter([repeats([90], [110], [100], [100]), ...quiet], "relative", 1);
    expect(covariances[0]![0]![0]).toBeCloseTo(200 / 3 / 4, 10);
    expect(pooled[0]![0]![0]).toBeCloseTo(0.02 / 3 / 4, 10);
    expect(covariances[1]![0]![0]).toBeCloseTo(0.02 / 3 / 4, 10);
  });
});
