import { describe, expect, it } from "vitest";
import { type BatchStatistics, BLOCKS_PER_BATCH, batchStatistics, isSettled, spreadOf } from "./adaptive-stopping.ts";
import { TRIALS_PER_BLOCK } from "./monte-carlo-blocks.ts";

const ALL = { typeAUnknown: false, meanExists: true, varianceExists: true };

/** Batches of 10⁴ trials each, alike but for what is given. */
function batches(count: number, change: (k: number) => Partial<BatchStatistics> = () => ({})): BatchStatistics[] {
  return Array.from({ length: count }, (_, k) => ({ count: 10_000, mean: 5, u: 0.5, low: 4, high: 6, ...change(k) }));
}

/** Alternating about zero: of h figures the standard deviation of the mean is size/√(h − 1). */
const swing = (k: number, size: number) => (k % 2 === 0 ? size : -size);

describe("the adaptive procedure", () => {
  it("MC-10: a batch holds 10⁴ trials at least", () => {
    expect(BLOCKS_PER_BATCH * TRIALS_PER_BLOCK).toBeGreaterThanOrEqual(10_000);
    expect((BLOCKS_PER_BATCH - 1) * TRIALS_PER_BLOCK).toBeLessThan(10_000);
  });

  it("MC-10: one batch never suffices, two that agree do", () => {
    expect(isSettled(batches(1), ALL, { digits: 2 })).toBe(false);
    expect(isSettled(batches(2), ALL, { digits: 2 })).toBe(true);
  });

  it.each(["mean", "u", "low", "high"] as const)(
    "MC-10: %s must be known to the tolerance: twice its deviation",
    (figure) => {
      // u 0.50: δ = 0.005. Four batches that swing by s: standard deviation of the mean s/√3, so s may be 0.00433
      const swinging = (size: number) => batches(4, (k) => ({ [figure]: batches(1)[0]![figure] + swing(k, size) }));
      expect(isSettled(swinging(0.0043), ALL, { digits: 2 })).toBe(true);
      expect(isSettled(swinging(0.0044), ALL, { digits: 2 })).toBe(false);
      // to one digit δ = 0.05
      expect(isSettled(swinging(0.043), ALL, { digits: 1 })).toBe(true);
      expect(isSettled(swinging(0.044), ALL, { digits: 1 })).toBe(false);
      // and a fifth of it
      expect(isSettled(swinging(0.0043 / 5), ALL, { digits: 2, part: 0.2 })).toBe(true);
      expect(isSettled(swinging(0.0044 / 5), ALL, { digits: 2, part: 0.2 })).toBe(false);
    },
  );

  it("MC-10: moments that do not exist are not watched, and the interval's width gives the tolerance", () => {
    const wild = batches(4, (k) => ({ mean: 5 + swing(k, 1), u: 100 + swing(k, 50) }));
    expect(isSettled(wild, ALL, { digits: 2 })).toBe(false);
    expect(isSettled(wild, { ...ALL, meanExists: false, varianceExists: false }, { digits: 2 })).toBe(true);
    // half the width, 1, over 1.96 is 0.51: δ = 0.005
    const ends = (size: number) => batches(4, (k) => ({ u: 1e6, high: 6 + swing(k, size) }));
    expect(spreadOf(4, 6)).toBeCloseTo(0.5102, 4);
    expect(isSettled(ends(0.0043), { ...ALL, varianceExists: false }, { digits: 2 })).toBe(true);
    expect(isSettled(ends(0.0044), { ...ALL, varianceExists: false }, { digits: 2 })).toBe(false);
  });

  it("MC-10: the ends of an interval that means nothing are not watched", () => {
    const ends = batches(4, (k) => ({ low: swing(k, 1), high: swing(k, 1) }));
    expect(isSettled(ends, { ...ALL, typeAUnknown: true }, { digits: 2 })).toBe(true);
  });

  it("MC-10: the tolerance is that of all trials together, not of a batch", () => {
    // u 0.9 within, means ±0.6 apart: together √(0.81 + 0.36) = 1.08, so δ = 0.05 in place of 0.005
    const apart = batches(10_000, (k) => ({ mean: 5 + swing(k, 0.6), u: 0.9, low: 4, high: 6 }));
    // 2·0.6/√9999 = 0.012
    expect(isSettled(apart, ALL, { digits: 2 })).toBe(true);
    const close = batches(10_000, (k) => ({ mean: 5 + swing(k, 0.3), u: 0.9 }));
    // 2·0.3/√9999 = 0.006 against √(0.81 + 0.09) = 0.949, δ = 0.005
    expect(isSettled(close, ALL, { digits: 2 })).toBe(false);
  });

  it("MC-6: a batch of which too few trials succeeded settles nothing", () => {
    const failed = new Float64Array(10_000).fill(Number.NaN);
    failed.set([1, 2, 3]);
    expect(batchStatistics(failed, 2, 0.95)).toBeUndefined();
    expect(isSettled([...batches(3), undefined], ALL, { digits: 2 })).toBe(false);
    failed.set(Array.from({ length: 1000 }, (_, i) => i + 1));
    expect(batchStatistics(failed, 500, 0.95)).toMatchObject({ count: 1000, mean: 500.5, low: 25, high: 975 });
  });
});
