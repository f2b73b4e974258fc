import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ChebyshevSum, chebyshevCoefficients, chebyshevNodes, chebyshevSum } from "./chebyshev.ts";

/** T_n(x) by its definition. */
const t = (n: number, x: number) => Math.cos(n * Math.acos(x));

function evaluate({ orders, coefficients }: ChebyshevSum, point: readonly number[]): number {
  return coefficients.reduce(
    (total, coefficient, k) => total + point.reduce((product, x, v) => product * t(orders[3 * k + v]!, x), coefficient),
    0,
  );
}

/** Values of a function at all combinations of the nodes. */
function onGrid(f: (...point: number[]) => number, counts: readonly number[]): Float64Array {
  const points = counts.reduce<number[][]>(
    (all, n) => all.flatMap((point) => [...chebyshevNodes(n)].map((x) => [...point, x])),
    [[]],
  );
  return Float64Array.from(points, (point) => f(...point));
}

describe("Chebyshev sums", () => {
  it("MC-16: the nodes are the zeros of the polynomial of that order", () => {
    for (const n of [1, 2, 5, 9]) for (const x of chebyshevNodes(n)) expect(t(n, x)).toBeCloseTo(0, 14);
  });

  it("MC-16: the coefficients of e^x are twice the modified Bessel functions: I₀(1) = 1.26606588, I₁ = 0.56515910 (C)", () => {
    const c = chebyshevCoefficients(onGrid(Math.exp, [17]), [17]);
    expect(c[0]).toBeCloseTo(1.2660658777520084, 14);
    expect(c[1]).toBeCloseTo(2 * 0.5651591039924851, 14);
    expect(c[2]).toBeCloseTo(2 * 0.1357476697670383, 14);
  });

  it.each([1, 2, 3])("MC-16: a polynomial in %s variables comes out as it is", (variables) => {
    const order = fc.tuple(
      fc.integer({ min: 0, max: 4 }),
      fc.integer({ min: 0, max: 4 }),
      fc.integer({ min: 0, max: 4 }),
    );
    const term = fc.record({ order, size: fc.double({ min: -2, max: 2, noNaN: true }) });
    fc.assert(
      fc.property(
        fc.array(term, { minLength: 1, maxLength: 5 }),
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 3, maxLength: 3 }),
        (terms, place) => {
          const f = (...point: number[]) =>
            terms.reduce(
              (total, { order: orders, size }) => total + point.reduce((p, x, v) => p * t(orders[v]!, x), size),
              0,
            );
          // unlike numbers of nodes, so that variables cannot be mistaken for each other
          const counts = [7, 5, 6].slice(0, variables);
          const sum = chebyshevSum(chebyshevCoefficients(onGrid(f, counts), counts), counts, 1e-12);
          const point = place.slice(0, variables);
          expect(evaluate(sum, point)).toBeCloseTo(f(...point), 10);
          expect(Math.max(...sum.degrees)).toBeLessThanOrEqual(4);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("MC-16: what is small enough to be left out altogether is left out, and no more than that", () => {
    const f = (x: number) => 3 + 0.5 * t(1, x) + 1e-3 * t(2, x) + 4e-4 * t(4, x);
    const c = chebyshevCoefficients(onGrid(f, [9]), [9]);
    const kept = (negligible: number) => [...chebyshevSum(c, [9], negligible).coefficients];
    expect(kept(1e-6)).toHaveLength(4);
    expect(kept(5e-4)).toHaveLength(3);
    expect(kept(1.3e-3)).toHaveLength(3);
    expect(kept(1.5e-3)).toHaveLength(2);
    expect(kept(100)).toHaveLength(1);
    for (const x of [-1, -0.3, 0.5, 1])
      expect(Math.abs(evaluate(chebyshevSum(c, [9], 1.5e-3), [x]) - f(x))).toBeLessThan(1.5e-3);
  });

  it("MC-16: degrees are those of the terms that are left, variable by variable", () => {
    const f = (x: number, y: number) => 1 + t(3, x) + t(1, x) * t(2, y) + 1e-9 * t(5, y);
    const counts = [7, 8];
    const sum = chebyshevSum(chebyshevCoefficients(onGrid(f, counts), counts), counts, 1e-8);
    expect(sum.degrees).toEqual([3, 2]);
    expect([...sum.orders]).toEqual([0, 0, 0, 1, 2, 0, 3, 0, 0]);
  });
});
