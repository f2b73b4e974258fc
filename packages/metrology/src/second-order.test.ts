import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Model } from "./model.ts";
import { propagate } from "./propagation.ts";
import { choleskyFactor, secondOrder } from "./second-order.ts";
import type { Scalar } from "./tape.ts";
import { specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

function pair(means: readonly [number, number], covariance: readonly number[]) {
  const model = new Model();
  const [x, y] = model.estimates({
    key: "pair",
    type: "B",
    covariance,
    elements: means.map((value, i) => ({ name: `${i}`, symbol: `x_${i}`, label: `x${i}`, unit: ONE, value })),
  }) as [Scalar, Scalar];
  return { model, x, y };
}

describe("the second order", () => {
  it.each([
    // Y = X₁² + X₂², u 0.005 each, uncorrelated: mean and standard deviation are exact for a square of normal inputs
    [0, 50e-6, 50e-6],
    [0.01, 150e-6, 111.803e-6],
    [0.05, 2550e-6, 502.494e-6],
  ])(
    "PROP-5: JCGM 101 9.4 at x₁ = %d: mean %d and standard deviation %d (C; form of the example from memory, M)",
    (...row) => {
      const [mean, expected, deviation] = row;
      const { model, x, y } = pair([mean, 0], [25e-6, 0, 0, 25e-6]);
      const square = x.times(x).plus(y.times(y));
      const { u, bias } = secondOrder(model, square);
      expect(square.value + bias).toBeCloseTo(expected, 12);
      expect(u).toBeCloseTo(deviation, 9);
    },
  );

  it("PROP-5: the product of two correlated normal inputs about zero: u² = σ²τ²(1 + r²), mean rστ", () => {
    for (const r of [-1, -0.6, 0, 0.6, 1]) {
      const { model, x, y } = pair([0, 0], [9, 12 * r, 12 * r, 16]);
      const { u, bias } = secondOrder(model, x.times(y));
      expect(u).toBeCloseTo(12 * Math.sqrt(1 + r * r), 12);
      expect(bias).toBeCloseTo(12 * r, 12);
      expect(propagate(model, x.times(y)).u).toBe(0);
    }
  });

  it("PROP-5: e^x of a normal input: the series of the log-normal distribution to the terms that are kept", () => {
    const s = 0.05;
    const model = new Model();
    const x = model.estimate({ key: "x", symbol: "x", label: "x", type: "B", unit: ONE, value: 0.3, u: s });
    const { u, bias } = secondOrder(model, x.exponential());
    // Var/e^2μ = (e^s² − 1)·e^s² = s² + 3/2·s⁴ + O(s⁶); mean/e^μ = 1 + s²/2 + O(s⁴)
    expect((u * u) / Math.exp(0.6) - s * s).toBeCloseTo(1.5 * s * s * s * s, 8);
    expect(bias / Math.exp(0.3)).toBeCloseTo((s * s) / 2, 5);
  });

  it("PROP-5: a straight line has no second order", () => {
    const { model, x, y } = pair([10, 20], [9, 6, 6, 16]);
    const line = x.times(3).minus(y);
    const { u, bias } = secondOrder(model, line);
    expect(u).toBeCloseTo(propagate(model, line).u, 12);
    expect(bias).toBeCloseTo(0, 12);
  });

  it("PROP-5: through both kernels it stays within a hundredth of first order where uncertainties are small", () => {
    const { model, result, ratio } = specimen();
    for (const node of [result, ratio]) {
      const first = propagate(model, node).u;
      const { u, bias } = secondOrder(model, node);
      expect(Math.abs(u / first - 1)).toBeLessThan(0.01);
      expect(u).not.toBe(first);
      expect(Math.abs(bias)).toBeLessThan(0.05 * first);
    }
  });

  it("PROP-5: without any uncertainty there is none, and a node of another model is refused", () => {
    const sharp = pair([2, 3], [0, 0, 0, 0]);
    expect(secondOrder(sharp.model, sharp.x.times(sharp.y))).toEqual({ u: 0, bias: 0 });
    expect(() => secondOrder(sharp.model, pair([2, 3], [0, 0, 0, 0]).x)).toThrow("another model");
  });
});

describe("the Cholesky factor", () => {
  it("PROP-11: its product with its transpose is the matrix, also where that is of lower rank", () => {
    // any three vectors of one to three components, in thousandths, whose products do not vanish: ranks none to three
    const component = fc.integer({ min: -3000, max: 3000 }).map((n) => n / 1000);
    const vectors = fc
      .integer({ min: 1, max: 3 })
      .chain((rank) =>
        fc.array(fc.array(component, { minLength: rank, maxLength: rank }), { minLength: 3, maxLength: 3 }),
      );
    fc.assert(
      fc.property(vectors, (rows) => {
        const matrix = rows.flatMap((row) => rows.map((other) => row.reduce((s, x, k) => s + x * other[k]!, 0)));
        const factor = choleskyFactor(matrix, 3);
        for (let i = 0; i < 3; i++)
          for (let j = 0; j < 3; j++) {
            let product = 0;
            for (let k = 0; k < 3; k++) product += factor[i * 3 + k]! * factor[j * 3 + k]!;
            // rounding alone may make a pivot of 1e-14 of the variance, 27: its root, 5e-7, comes in where it is skipped
            expect(Math.abs(product - matrix[i * 3 + j]!)).toBeLessThanOrEqual(3e-6);
          }
      }),
    );
  });

  it("PROP-11: a direction without variance gets a column of zeros", () => {
    expect([...choleskyFactor([4, 2, 2, 1], 2)]).toEqual([2, 0, 1, 0]);
    expect([...choleskyFactor([0, 0, 0, 9], 2)]).toEqual([0, 0, 0, 3]);
  });
});
