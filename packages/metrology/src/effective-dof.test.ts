import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coverageFactor } from "./distributions.ts";
import { dofFromRelativeUncertainty, effectiveDof } from "./effective-dof.ts";

describe("effective degrees of freedom", () => {
  it("STAT-14: three components of 0.25, 0.57 and 0.82 per cent have 19.0 effective degrees of freedom", () => {
    // checks, C (that it is the example of GUM G.4.1 is from memory, M).
    const groups = [
      { u: 0.25, dof: 9 },
      { u: 0.57, dof: 4 },
      { u: 0.82, dof: 14 },
    ];
    expect(effectiveDof(groups)).toBeCloseTo(18.9987, 4);
    const combined = Math.sqrt(groups.reduce((sum, { u }) => sum + u * u, 0));
    expect(combined).toBeCloseTo(1.02947, 5);
    expect(combined * coverageFactor(0.95, 19)).toBeCloseTo(2.1547, 5);
  });

  it("STAT-14: four equal components of ten degrees of freedom each have forty", () => {
    // checks, V2.
    expect(effectiveDof([1, 2, 3, 4].map(() => ({ u: 0.7, dof: 10 })))).toBeCloseTo(40, 12);
  });

  it("STAT-14: the end gauge of GUM H.1 has sixteen", () => {
    // GUM H.1, V2: contributions c·u in nm with their degrees of freedom; 16.6561 and U99 92.62 at ν 16, C.
    const length = 50_000_623;
    const groups = [
      { u: 25, dof: 18 },
      { u: 9.7, dof: 25.6 },
      { u: length * 0.1 * 0.58e-6, dof: 50 },
      { u: length * 11.5e-6 * 0.029, dof: 2 },
    ];
    const combined = Math.sqrt(groups.reduce((sum, { u }) => sum + u * u, 0));
    expect(combined).toBeCloseTo(31.7106, 3);
    expect(effectiveDof(groups)).toBeCloseTo(16.6561, 3);
    expect(combined * coverageFactor(0.99, 16)).toBeCloseTo(92.62, 2);
  });

  it("STAT-14: one estimated group beside known ones gains degrees of freedom by its small share", () => {
    // u² shares ½ and ½: ν_eff = (1)²/(¼/3) = 12.
    expect(
      effectiveDof([
        { u: 1, dof: 3 },
        { u: 1, dof: Infinity },
      ]),
    ).toBeCloseTo(12, 12);
  });

  it("STAT-14: without a finite group, or without any contribution, there is no limit", () => {
    expect(effectiveDof([{ u: 1, dof: Infinity }])).toBe(Infinity);
    expect(effectiveDof([])).toBe(Infinity);
    expect(effectiveDof([{ u: 0, dof: 2 }])).toBe(Infinity);
  });

  it("STAT-14: the result lies between the fewest degrees of freedom and their sum, in any unit", () => {
    const group = fc.record({
      u: fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
      dof: fc.double({ min: 0.5, max: 100, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(group, { minLength: 1, maxLength: 8 }), (groups) => {
        const nu = effectiveDof(groups);
        const least = Math.min(...groups.map(({ dof }) => dof));
        const most = groups.reduce((sum, { dof }) => sum + dof, 0);
        expect(nu).toBeGreaterThanOrEqual(least * (1 - 1e-12));
        expect(nu).toBeLessThanOrEqual(most * (1 + 1e-12));
        // 2⁻⁶⁰⁰, a unit in which fourth powers vanish.
        const tiny = groups.map(({ u, dof }) => ({ u: u * 2.409919865102884e-181, dof }));
        expect(Math.abs(effectiveDof(tiny) / nu - 1)).toBeLessThan(1e-13);
      }),
    );
  });

  it("STAT-14: a contribution or degrees of freedom that make no sense are refused by the group's number", () => {
    expect(() => effectiveDof([{ u: -1, dof: 2 }])).toThrow("Group 1 contributes -1");
    expect(() =>
      effectiveDof([
        { u: 1, dof: 2 },
        { u: 1, dof: 0 },
      ]),
    ).toThrow("Group 2 has 0 degrees of freedom");
    expect(() => effectiveDof([{ u: Number.NaN, dof: 2 }])).toThrow(RangeError);
    expect(() => effectiveDof([{ u: 1, dof: Number.NaN }])).toThrow(RangeError);
  });

  it("STAT-15: an uncertainty known to a quarter has eight degrees of freedom", () => {
    // GUM G.4.2; checks, C.
    expect(dofFromRelativeUncertainty(0.25)).toBe(8);
    expect(dofFromRelativeUncertainty(0.5)).toBe(2);
    expect(dofFromRelativeUncertainty(0)).toBe(Infinity);
    expect(() => dofFromRelativeUncertainty(-0.1)).toThrow("but -0.1 was given");
    expect(() => dofFromRelativeUncertainty(Number.NaN)).toThrow(RangeError);
  });
});
