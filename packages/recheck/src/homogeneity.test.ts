import { describe, expect, it } from "vitest";
import { type Spread, unevenConditions } from "./homogeneity.ts";
import { fUpperTail, twoSided } from "./special.ts";

const spread = (variance: number, dof = 4, least = 0): Spread => ({ variances: [variance], dof, least: [least] });

describe("distributions", () => {
  it("F has the tails that scipy gives (C)", () => {
    expect(fUpperTail(4, 3, 20)).toBeCloseTo(0.022076999662362404, 14);
    expect(fUpperTail(9.5, 2, 7)).toBeCloseTo(0.010125965005139416, 14);
    expect(fUpperTail(1, 5, 5)).toBeCloseTo(0.5, 14);
    expect(fUpperTail(60, 4, 36) / 1.9886230756486774e-15).toBeCloseTo(1, 6);
    expect(fUpperTail(Number.POSITIVE_INFINITY, 4, 36)).toBe(0);
  });

  it("t has the quantiles that scipy gives (C)", () => {
    expect(twoSided(0.05, 4)).toBeCloseTo(2.7764451051977934, 10);
    expect(twoSided(0.05, 23)).toBeCloseTo(2.0686576104190486, 10);
  });
});

describe("uneven conditions", () => {
  it("are found by F against all the others together, at 1 % over the family", () => {
    const quiet = Array.from({ length: 9 }, () => spread(1));
    // Ten tests: p must lie below 0.001005, that is above F(4, 36) = 5.8.
    expect([...unevenConditions([...quiet, spread(5)])]).toEqual([]);
    expect([...unevenConditions([...quiet, spread(7)])]).toEqual([9]);
  });

  it("are set aside one after the other, so that the worst hides no second", () => {
    const quiet = Array.from({ length: 12 }, () => spread(1));
    const found = unevenConditions([spread(2000), ...quiet, spread(20)]);
    expect([...found]).toEqual([0, 13]);
  });

  it("need company, and repeats", () => {
    expect(unevenConditions([spread(100)]).size).toBe(0);
    expect(unevenConditions([spread(100), spread(0, 0)]).size).toBe(0);
  });

  it("do not come of one flickering digit beside exact repeats", () => {
    expect(unevenConditions([spread(1, 4, 0), spread(0), spread(0)]).size).toBe(1);
    expect(unevenConditions([spread(1, 4, 0.5), spread(0), spread(0)]).size).toBe(0);
    expect(unevenConditions([spread(0), spread(0), spread(0)]).size).toBe(0);
  });
});
