import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { numericalTolerance } from "./numerical-tolerance.ts";

describe("the numerical tolerance", () => {
  it("MC-9: the examples of JCGM 101, 7.9.2: 0.000 35 g to two digits, and 2 K to one (from memory, M)", () => {
    expect(numericalTolerance(0.00035, 2)).toBe(0.000005);
    expect(numericalTolerance(2, 1)).toBe(0.5);
  });

  it("MC-9: digits are counted in the rounded uncertainty", () => {
    expect(numericalTolerance(0.0994, 2)).toBe(0.0005);
    expect(numericalTolerance(0.0996, 2)).toBe(0.005); // rounds to 0.10
    expect(numericalTolerance(9.6, 1)).toBe(5); // rounds to 1e1
    expect(numericalTolerance(9.4, 1)).toBe(0.5);
    expect(numericalTolerance(111.803e-6, 2)).toBe(5e-6);
    expect(numericalTolerance(50, 2)).toBe(0.5);
    expect(numericalTolerance(1e22, 2)).toBe(5e20);
  });

  it("MC-9: it is half a unit of the last digit: between 1/200 and 1/20 of u with two digits", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-300, max: 1e300, noNaN: true }), fc.integer({ min: 1, max: 5 }), (u, digits) => {
        const relative = numericalTolerance(u, digits) / u;
        expect(relative).toBeLessThanOrEqual(0.5 * 10 ** (1 - digits) * 1.06);
        expect(relative).toBeGreaterThanOrEqual(0.5 * 10 ** -digits * 0.999);
        expect(numericalTolerance(u, digits)).toBeGreaterThan(numericalTolerance(u, digits + 1));
      }),
    );
  });

  it("MC-9: no uncertainty, no tolerance", () => {
    expect(numericalTolerance(0, 2)).toBe(0);
  });

  it("MC-15: what is no uncertainty, and no number of digits, is refused", () => {
    for (const u of [-1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => numericalTolerance(u, 2)).toThrow(`not ${u}`);
    for (const digits of [0, 1.5, 16, Number.NaN]) expect(() => numericalTolerance(1, digits)).toThrow(`not ${digits}`);
  });
});
