import { describe, expect, test } from "vitest";
import { ELLIPSE_FACTOR, ellipsePoints, enlargement } from "./ellipse.ts";

describe("an uncertainty ellipse", () => {
  test("has half axes of √5.991 standard uncertainties, the 95 % quantile of χ² with two degrees of freedom", () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4: 5.991
    expect(ELLIPSE_FACTOR * ELLIPSE_FACTOR).toBeCloseTo(5.991, 3);
  });

  test.each([
    { xx: 1, xy: 0, yy: 1 },
    { xx: 4, xy: 2.9, yy: 2.25 },
    { xx: 0.01, xy: -0.5, yy: 100 },
  ])("consists of points at one Mahalanobis distance: $xx, $xy, $yy", ({ xx, xy, yy }) => {
    const points = ellipsePoints({ xx, xy, yy }, 2);
    expect(points.length).toBeGreaterThanOrEqual(48);
    const det = xx * yy - xy * xy;
    for (const [x, y] of points) expect((yy * x * x - 2 * xy * x * y + xx * y * y) / det).toBeCloseTo(4, 9);
  });

  test("goes all the way round", () => {
    const points = ellipsePoints({ xx: 1, xy: 0, yy: 1 }, 1);
    const sum = points.reduce(([a, b], [x, y]) => [a + x, b + y] as [number, number], [0, 0]);
    expect(Math.abs(sum[0]) + Math.abs(sum[1])).toBeLessThan(1e-9);
    expect(Math.min(...points.map(([x]) => x))).toBeCloseTo(-1, 9);
  });

  test("is a line where the two are fully correlated, and a point where nothing is uncertain", () => {
    for (const [x, y] of ellipsePoints({ xx: 1, xy: 2, yy: 4 }, 1)) expect(y).toBeCloseTo(2 * x, 9);
    expect(ellipsePoints({ xx: 0, xy: 0, yy: 0 }, 2).every(([x, y]) => x === 0 && y === 0)).toBe(true);
  });
});

test("an enlargement is round, and as large as there is room for", () => {
  expect([0.3, 0.04, 0.9, 5].map((reach) => enlargement(reach, 1))).toEqual([2, 20, 1, 1]);
});
