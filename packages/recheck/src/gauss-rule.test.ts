import { describe, expect, it } from "vitest";
import { gaussHermite, gaussLegendre, halved, type Rule } from "./gauss-rule.ts";

const integral = ({ nodes, weights }: Rule, f: (x: number) => number) =>
  nodes.reduce((sum, x, i) => sum + weights[i]! * f(x), 0);
const power = (x: number, n: number) =>
  Array.from({ length: n }, () => x).reduce((product, factor) => product * factor, 1);

describe("Gauss rules", () => {
  it("have the nodes and weights of the textbooks", () => {
    const three = gaussLegendre(3);
    expect(three.nodes[2]).toBeCloseTo(Math.sqrt(3 / 5), 14);
    expect(three.weights).toHaveLength(3);
    expect(three.weights[0]).toBeCloseTo(5 / 9, 14);
    expect(three.weights[1]).toBeCloseTo(8 / 9, 14);
    const normal = gaussHermite(3);
    expect(normal.nodes[0]).toBeCloseTo(-Math.sqrt(3), 14);
    expect(normal.weights[1]).toBeCloseTo(2 / 3, 14);
  });

  it("integrate every power up to 2n − 1 exactly, Legendre over [−1, 1]", () => {
    for (const n of [1, 2, 5, 8, 64]) {
      const rule = gaussLegendre(n);
      for (let degree = 0; degree < 2 * n; degree++) {
        expect(integral(rule, (x) => power(x, degree))).toBeCloseTo(degree % 2 === 0 ? 2 / (degree + 1) : 0, 12);
      }
    }
  });

  it("give the moments of the normal distribution, Hermite", () => {
    let moment = 1;
    for (let degree = 0; degree < 20; degree += 2) {
      if (degree > 0) moment *= degree - 1;
      expect(integral(gaussHermite(10), (x) => power(x, degree)) / moment).toBeCloseTo(1, 11);
    }
  });

  it("halving finds a zero of rising and of falling functions", () => {
    expect(halved((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(halved((x) => 2 - x * x, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
  });
});
