import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sidakFamily, sidakPerTest } from "./sidak.ts";

describe("Šidák's levels", () => {
  it("STAT-8: twelve tests at one per cent for the family have 0.0837 per cent each", () => {
    // 1 − 0.99^(1/12), computed with Python, C.
    expect(sidakPerTest(0.01, 12)).toBeCloseTo(0.0008371773591205889, 15);
  });

  it("STAT-8: one test has the family's level", () => {
    expect(sidakPerTest(0.01, 1)).toBeCloseTo(0.01, 16);
    expect(sidakFamily(0.2, 1)).toBeCloseTo(0.2, 15);
  });

  it("STAT-8: the two directions undo each other, for levels as small as a double can hold", () => {
    const level = fc.double({ min: 1e-300, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(level, fc.integer({ min: 1, max: 1000 }), (alpha, tests) => {
        expect(Math.abs(sidakFamily(sidakPerTest(alpha, tests), tests) / alpha - 1)).toBeLessThan(1e-13);
      }),
    );
  });

  it("STAT-8: Šidák's level per test is a little more generous than an equal share", () => {
    for (const tests of [2, 10, 100]) {
      expect(sidakPerTest(0.05, tests)).toBeGreaterThan(0.05 / tests);
      expect(sidakPerTest(0.05, tests)).toBeLessThan(0.0515 / tests);
    }
  });

  it("STAT-8: certainty stays certain, and levels or counts that make no sense are refused", () => {
    expect(sidakFamily(1, 5)).toBe(1);
    expect(sidakPerTest(1, 5)).toBe(1);
    expect(sidakFamily(0, 5)).toBe(0);
    expect(() => sidakPerTest(1.5, 3)).toThrow("A level lies from 0 to 1, but 1.5 was given.");
    expect(() => sidakPerTest(Number.NaN, 3)).toThrow(RangeError);
    expect(() => sidakFamily(0.1, 0)).toThrow("a whole number of at least one, but 0 was given");
    expect(() => sidakFamily(0.1, 2.5)).toThrow(RangeError);
  });
});
