import { describe, expect, it } from "vitest";
import { gaussLegendre } from "./gauss-legendre.ts";

describe("Gauss–Legendre rules", () => {
  it("QUAD-1: the rule of three points is 0, ±√(3/5) with 8/9, 5/9 (Abramowitz and Stegun, table 25.4; exact)", () => {
    const { nodes, weights } = gaussLegendre(3);
    expect(nodes[0]).toBeCloseTo(-Math.sqrt(0.6), 15);
    expect(nodes[1]).toBe(0);
    expect(nodes[2]).toBeCloseTo(Math.sqrt(0.6), 15);
    [5 / 9, 8 / 9, 5 / 9].forEach((weight, i) => {
      expect(weights[i]).toBeCloseTo(weight, 15);
    });
  });

  it.each([1, 2, 5, 16, 40])("QUAD-1: %i points integrate every power up to 2n − 1 exactly", (n) => {
    const { nodes, weights } = gaussLegendre(n);
    for (let power = 0; power <= 2 * n - 1; power++) {
      const sum = nodes.reduce((total, x, i) => total + weights[i]! * x ** power, 0);
      expect(sum).toBeCloseTo(power % 2 === 0 ? 2 / (power + 1) : 0, 13);
    }
  });

  it("QUAD-1: one power more is not exact, so the test above can fail", () => {
    const { nodes, weights } = gaussLegendre(2);
    expect(nodes.reduce((total, x, i) => total + weights[i]! * x ** 4, 0)).not.toBeCloseTo(2 / 5, 3);
  });

  it.each([0, 1.5, 257])("QUAD-1: a rule of %d points is refused", (n) => {
    expect(() => gaussLegendre(n)).toThrow(RangeError);
  });
});
