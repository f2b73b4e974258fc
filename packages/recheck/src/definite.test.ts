import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withoutNegativeParts } from "./definite.ts";

describe("a matrix without its negative eigenvalues", () => {
  it("is that of eigenvalues known by hand", () => {
    // 3 along (1, 1), −1 along (1, −1)
    for (const row of withoutNegativeParts([
      [1, 2],
      [2, 1],
    ]))
      for (const cell of row) expect(cell).toBeCloseTo(1.5, 10);
    expect(
      withoutNegativeParts([
        [0, 0],
        [0, 0],
      ]),
    ).toEqual([
      [0, 0],
      [0, 0],
    ]);
  });

  it("is the matrix itself where it is positive, a nil eigenvalue included", () => {
    const close = (matrix: number[][]) =>
      withoutNegativeParts(matrix).forEach((row, i) => {
        row.forEach((cell, j) => {
          expect(cell).toBeCloseTo(matrix[i]![j]!, 9);
        });
      });
    close([
      [2, 0.5],
      [0.5, 1],
    ]);
    close([
      [1, 1],
      [1, 1],
    ]);
  });

  it("leaves the sum of squares of a vector times the matrix not below zero", () => {
    const entry = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(entry, entry, entry, entry, entry, (a, b, d, x, y) => {
        fc.pre(Math.abs(a * d - b * b) > 1e-3);
        const [[p, q], [, r]] = withoutNegativeParts([
          [a, b],
          [b, d],
        ]) as [[number, number], [number, number]];
        expect(p * x * x + 2 * q * x * y + r * y * y).toBeGreaterThan(-1e-9);
      }),
    );
  });
});
