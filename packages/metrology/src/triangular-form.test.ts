import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inverseNormalMatrix, norm, solveTriangular, triangularForm } from "./triangular-form.ts";

// Whole 64ths: between numbers near the smallest a double can hold, a quotient may overflow.
const entry = fc.integer({ min: -640, max: 640 }).map((n) => n / 64);

describe("triangular form", () => {
  it("FIT-1: a square system is solved and leaves no residual", () => {
    // 2a + b = 5, a − 3b = −8: a = 1, b = 3.
    const rows = [
      [2, 1],
      [1, -3],
    ];
    const form = triangularForm(rows, [5, -8]);
    const [a, b] = solveTriangular(form);
    expect(a).toBeCloseTo(1, 14);
    expect(b).toBeCloseTo(3, 14);
    expect(form.residualNorm).toBe(0);
    expect(form.dependentColumn).toBeNull();
  });

  it("FIT-1: the residual of the solution is orthogonal to every column and has the norm told", () => {
    const problem = fc.array(fc.tuple(entry, entry, entry), { minLength: 3, maxLength: 12 });
    fc.assert(
      fc.property(problem, (data) => {
        const rows = data.map(([a, b]) => [a, b]);
        const right = data.map(([, , y]) => y);
        const form = triangularForm(rows, right);
        // Nearly parallel columns are another rule's concern.
        fc.pre(form.dependentColumn === null && Math.abs(form.triangle[1]![1]!) > 1e-3);
        const solution = solveTriangular(form);
        const rest = right.map((y, i) => y - rows[i]![0]! * solution[0]! - rows[i]![1]! * solution[1]!);
        for (const j of [0, 1]) {
          const product = rest.reduce((sum, value, i) => sum + value * rows[i]![j]!, 0);
          expect(Math.abs(product)).toBeLessThan(1e-9 * (1 + norm(right)) * (1 + form.norms[j]!));
        }
        expect(Math.abs(norm(rest) - form.residualNorm)).toBeLessThan(1e-9 * (1 + norm(right)));
      }),
      { numRuns: 300 },
    );
  });

  it("FIT-1: the inverse of the normal matrix is that of the columns' products", () => {
    const rows = [
      [1, 0],
      [1, 1],
      [1, 2],
      [1, 5],
    ];
    // XᵀX = [[4, 8], [8, 30]], determinant 56.
    const inverse = inverseNormalMatrix(triangularForm(rows, [0, 0, 0, 0]));
    const wanted = [
      [30 / 56, -8 / 56],
      [-8 / 56, 4 / 56],
    ];
    wanted.forEach((row, i) => {
      row.forEach((value, j) => {
        expect(inverse[i]![j]!).toBeCloseTo(value, 14);
      });
    });
    expect(inverse[0]![1]).toBe(inverse[1]![0]);
  });

  it("FIT-3: a column that follows from those before it is named, in whatever unit it is", () => {
    const rows = (unit: number): number[][] => [0, 1, 2, 3, 4].map((t) => [1, t, (2 + 3 * t) * unit]);
    for (const unit of [1, 1e-200, 1e200]) {
      expect(triangularForm(rows(unit), [1, 2, 3, 4, 5]).dependentColumn).toBe(2);
    }
    const zero = [0, 1, 2].map((t) => [0, t]);
    expect(triangularForm(zero, [1, 2, 3]).dependentColumn).toBe(0);
  });

  it("FIT-3: columns that differ by one part in a million are still told apart", () => {
    const rows = [0, 1, 2, 3].map((t) => [1, 1 + 1e-6 * t]);
    expect(triangularForm(rows, [0, 0, 0, 0]).dependentColumn).toBeNull();
  });

  it("FIT-1: the norm neither overflows nor vanishes", () => {
    expect(norm([3e200, 4e200])).toBeCloseTo(5e200, -190);
    expect(norm([3e-200, 4e-200]) / 5e-200).toBeCloseTo(1, 14);
    expect(norm([0, 0])).toBe(0);
    expect(norm([])).toBe(0);
    expect(norm([1, Infinity])).toBe(Infinity);
  });
});
