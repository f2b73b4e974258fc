import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { positivePart } from "./positive-part.ts";

const matrix = (...rows: number[][]) => Float64Array.from(rows.flat());

describe("the positive part of a symmetric matrix", () => {
  it("STAT-16: negative eigenvalues are set to zero, the others kept", () => {
    // [[1, 2], [2, 1]] has the eigenvalues 3 and −1 along (1, 1)/√2 and (1, −1)/√2: by hand, 3·(1, 1)ᵀ(1, 1)/2.
    const [a, b, c, d] = positivePart(matrix([1, 2], [2, 1]), 2);
    for (const entry of [a, b, c, d]) expect(entry).toBeCloseTo(1.5, 14);
    expect([...positivePart(matrix([2, 0], [0, -3]), 2)]).toEqual([2, 0, 0, 0]);
  });

  it("STAT-16: three columns: against eigenvectors known in closed form", () => {
    // Circulant [[0, 1, 1], …]: eigenvalue 2 along (1, 1, 1)/√3 and −1 twice; the part is 2/3 everywhere.
    for (const entry of positivePart(matrix([0, 1, 1], [1, 0, 1], [1, 1, 0]), 3)) expect(entry).toBeCloseTo(2 / 3, 13);
  });

  it("STAT-16: a positive matrix stays as it is, to the last bit, made symmetric from its lower triangle", () => {
    expect([...positivePart(matrix([2, 9], [0.5, 1]), 2)]).toEqual([2, 0.5, 0.5, 1]);
  });

  it("STAT-16: of nothing, and of what is negative throughout, nothing is left", () => {
    expect([...positivePart(matrix([0, 0], [0, 0]), 2)]).toEqual([0, 0, 0, 0]);
    expect([...positivePart(matrix([-1, 0], [0, -2]), 2)]).toEqual([0, 0, 0, 0]);
    expect(() => positivePart(matrix([Number.NaN]), 1)).toThrow("holds NaN");
  });

  it("STAT-16: A = A₊ − (−A)₊, and both parts are positive", () => {
    const entry = fc.double({ min: -3, max: 3, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(entry, { minLength: 10, maxLength: 10 }),
        fc.array(entry, { minLength: 4, maxLength: 4 }),
        (lower, x) => {
          const full = Float64Array.from({ length: 16 }, (_, k) => {
            const [i, j] = [Math.floor(k / 4), k % 4];
            const [high, low] = [Math.max(i, j), Math.min(i, j)];
            return lower[(high * (high + 1)) / 2 + low]!;
          });
          const [up, down] = [
            positivePart(full, 4),
            positivePart(
              full.map((value) => -value),
              4,
            ),
          ];
          for (const [k, value] of full.entries()) expect(up[k]! - down[k]!).toBeCloseTo(value, 10);
          for (const part of [up, down]) {
            const form = x.reduce(
              (sum, xi, i) => sum + x.reduce((all, xj, j) => all + xi * xj * part[i * 4 + j]!, 0),
              0,
            );
            expect(form).toBeGreaterThan(-1e-9);
          }
        },
      ),
    );
  });
});
