import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bracketedRoot } from "./bracketed-root.ts";

describe("bracketed root", () => {
  it("QUAD-2: finds √2, the golden ratio and the cosine's own argument to the last digits", () => {
    expect(bracketedRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(bracketedRoot((x) => x * x - x - 1, 1, 2)).toBeCloseTo((1 + Math.sqrt(5)) / 2, 15);
    // Dottie number, OEIS A003957, from memory, M.
    expect(bracketedRoot((x) => Math.cos(x) - x, 0, 1)).toBeCloseTo(0.7390851332151607, 15);
  });

  it("QUAD-2: the ends may stand in either order, and may be the root", () => {
    expect(bracketedRoot((x) => x * x - 2, 2, 0)).toBeCloseTo(Math.SQRT2, 15);
    expect(bracketedRoot((x) => x - 3, 3, 7)).toBe(3);
    expect(bracketedRoot((x) => x - 7, 3, 7)).toBe(7);
  });

  it("QUAD-2: any straight line is met, wherever its root lies in the bracket", () => {
    const root = fc.double({ min: -100, max: 100, noNaN: true });
    const slope = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(root, slope, fc.boolean(), (at, steep, falling) => {
        const found = bracketedRoot((x) => (falling ? -steep : steep) * (x - at), -101, 102);
        expect(Math.abs(found - at)).toBeLessThanOrEqual(4 * Number.EPSILON * Math.abs(at) + 1e-300);
      }),
    );
  });

  it("QUAD-2: a flat root and a step are found too, where interpolation alone is lost", () => {
    expect(bracketedRoot((x) => (x - 1) * (x - 1) * (x - 1) * (x - 1) * (x - 1), 0, 3, 1e-12)).toBeCloseTo(1, 2);
    expect(bracketedRoot((x) => (x < 0.3 ? -1 : 1), 0, 1)).toBeCloseTo(0.3, 14);
    expect(bracketedRoot((x) => (x < 1 ? -1e-200 : 1e200), 0, 9)).toBeCloseTo(1, 14);
  });

  it("QUAD-2: a smooth function takes about ten calls, not fifty", () => {
    let calls = 0;
    bracketedRoot(
      (x) => {
        calls++;
        return Math.exp(x) - 5;
      },
      0,
      4,
    );
    expect(calls).toBeLessThan(16);
  });

  it("QUAD-2: a tolerance ends the search sooner, within that distance", () => {
    let calls = 0;
    const f = (x: number) => {
      calls++;
      return x < 0.3 ? -1 : 1;
    };
    expect(Math.abs(bracketedRoot(f, 0, 1, 0.01) - 0.3)).toBeLessThan(0.02);
    expect(calls).toBeLessThan(12);
  });

  it("QUAD-2: no change of sign, or a function that is not a number, is refused with the values seen", () => {
    expect(() => bracketedRoot((x) => x * x + 1, -1, 1)).toThrow(
      "no change of sign between -1 and 1: the function is 2 and 2 there",
    );
    expect(() => bracketedRoot(() => Number.NaN, 0, 1)).toThrow(RangeError);
    expect(() => bracketedRoot((x) => (x === 0 ? -1 : x === 1 ? 1 : Number.NaN), 0, 1)).toThrow("not a number at 0.5");
  });
});
