import { describe, expect, it } from "vitest";
import { coverageIntervals, fewestValues, symmetricInterval } from "./coverage-interval.ts";

/** 1 … count, in an order that is not theirs. */
function whole(count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => ((i * 37) % count) + 1);
}

describe("coverage intervals from trials", () => {
  it("MC-8: 1000 trials, 95 %: q = 950, the symmetric interval starts at the 25th (JCGM 101, 7.7.2; C)", () => {
    expect(symmetricInterval(whole(1000), 0.95)).toEqual({ low: 25, high: 975 });
  });

  it("MC-8: with M − q odd the start is rounded up: 1001 trials, q = 951, from the 25th", () => {
    // (1001 − 951)/2 = 25
    expect(symmetricInterval(whole(1001), 0.95)).toEqual({ low: 25, high: 976 });
    // q = ⌊0.95·1003 + ½⌋ = 953, (1003 − 953 + 1)/2 = 25.5 → 25
    expect(symmetricInterval(whole(1003), 0.95)).toEqual({ low: 25, high: 978 });
    // q = ⌊0.9·25 + ½⌋ = 23, M − q = 2, from the first
    expect(symmetricInterval(whole(25), 0.9)).toEqual({ low: 1, high: 24 });
    // q = ⌊0.95·21 + ½⌋ = 20, M − q = 1, from the first
    expect(symmetricInterval(whole(21), 0.95)).toEqual({ low: 1, high: 21 });
  });

  it("MC-8: the shortest interval is where the trials lie densest, the first of several", () => {
    expect(coverageIntervals(whole(1000), 0.95).shortest).toEqual({ low: 1, high: 951 });
    const squares = whole(1000).map((x) => x * x);
    expect(coverageIntervals(squares, 0.95).shortest).toEqual({ low: 1, high: 951 * 951 });
    const roots = whole(1000).map((x) => -x * x);
    expect(coverageIntervals(roots, 0.95).shortest).toEqual({ low: -951 * 951, high: -1 });
  });

  it("MC-8: it is never longer than the symmetric one", () => {
    const values = whole(1000).map((x) => (x - 300) ** 3);
    const { symmetric, shortest } = coverageIntervals(values, 0.9);
    expect(shortest.high - shortest.low).toBeLessThan(symmetric.high - symmetric.low);
    expect(symmetric).toEqual(symmetricInterval(values, 0.9));
  });

  it("MC-15: too few trials are refused with the number that is needed", () => {
    // ⌊0.95·10 + ½⌋ = 10 of 10 leaves none outside; of 11, ⌊10.95⌋ = 10 leaves one
    expect(fewestValues(0.95)).toBe(11);
    expect(() => symmetricInterval(whole(10), 0.95)).toThrow("10 trials are too few");
    expect(() => symmetricInterval(whole(10), 0.95)).toThrow("11 are needed");
    expect(symmetricInterval(whole(11), 0.95)).toEqual({ low: 1, high: 11 });
    for (const probability of [0.5, 0.6827, 0.9, 0.99, 0.9999]) {
      const fewest = fewestValues(probability);
      expect(() => symmetricInterval(whole(fewest), probability)).not.toThrow();
      expect(() => symmetricInterval(whole(fewest - 1), probability)).toThrow("too few");
    }
  });

  it("MC-15: a probability that is none is refused", () => {
    for (const probability of [0, 1, -0.1, 95, Number.NaN])
      expect(() => coverageIntervals(whole(1000), probability)).toThrow(`not ${probability}`);
  });
});
