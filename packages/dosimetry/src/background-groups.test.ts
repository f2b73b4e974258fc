import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type BackgroundGroup, backgroundWeights } from "./background-groups.ts";

const groups = (...list: (readonly [time: number | undefined, count: number])[]): BackgroundGroup[] =>
  list.map(([time, count], i) => ({ name: `g${i}`, count, time, rates: [] }));
const at = (list: BackgroundGroup[], time?: number) => backgroundWeights({ groups: list }, time);

describe("the groups of the background", () => {
  it("NET-3: between two groups the weights are linear in time", () => {
    const two = groups([1000, 3], [5000, 2]);
    expect(at(two, 2000)).toEqual([0.75, 0.25]);
    expect(at(two, 3000)).toEqual([0.5, 0.5]);
    expect(at(two, 1000)).toEqual([1, 0]);
    expect(at(two, 4999)[1]).toBeCloseTo(0.99975, 12);
  });

  it("NET-3: outside them the nearest group counts alone", () => {
    const three = groups([1000, 3], [2000, 3], [5000, 2]);
    expect(at(three, 0)).toEqual([1, 0, 0]);
    expect(at(three, 5000)).toEqual([0, 0, 1]);
    expect(at(three, 9000)).toEqual([0, 0, 1]);
    expect(at(three, 2750)).toEqual([0, 0.75, 0.25]);
  });

  it("NET-3: where the reading or a group has no time, groups count by their readings", () => {
    expect(at(groups([1000, 3], [5000, 1]))).toEqual([0.75, 0.25]);
    expect(at(groups([undefined, 3], [5000, 1]), 2000)).toEqual([0.75, 0.25]);
    expect(at(groups([undefined, 4]), 2000)).toEqual([1]);
  });

  it("NET-3: two groups of one time are no gap to divide by", () => {
    const twins = groups([1000, 1], [1000, 1], [3000, 1]);
    for (const time of [999, 1000, 1001, 2000, 3000]) {
      const weights = at(twins, time);
      expect(weights.every(Number.isFinite)).toBe(true);
      expect(weights.reduce((a, b) => a + b)).toBeCloseTo(1, 15);
    }
  });

  it("NET-3: weights add up to one, are never negative, and give a straight drift back exactly", () => {
    const times = fc.uniqueArray(fc.integer({ min: 0, max: 100_000 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(times, fc.integer({ min: -50_000, max: 150_000 }), (some, time) => {
        const sorted = [...some].sort((a, b) => a - b);
        const weights = at(groups(...sorted.map((own) => [own, 1] as const)), time);
        expect(weights.reduce((a, b) => a + b)).toBeCloseTo(1, 12);
        expect(weights.every((weight) => weight >= 0)).toBe(true);
        const inside = Math.min(Math.max(time, sorted[0]!), sorted.at(-1)!);
        const drift = weights.reduce((total, weight, i) => total + weight * sorted[i]!, 0);
        expect(Math.abs(drift - inside)).toBeLessThan(1e-7);
      }),
    );
  });
});
