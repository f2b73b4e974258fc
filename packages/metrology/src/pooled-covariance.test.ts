import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pooledCovariance, poolScatters } from "./pooled-covariance.ts";

// Invented readings of two channels. Values below: computed with numpy 2.4.6, C.
const FOUR = [
  [1.0, 2.02],
  [1.02, 2.06],
  [0.98, 1.99],
  [1.01, 2.0],
];
const TWO = [
  [5.0, 1.0],
  [5.1, 1.03],
];
const ONE = [[7.0, 3.0]];

const close = (matrix: readonly (readonly number[])[] | null, wanted: number[][], digits: number): void => {
  wanted.forEach((row, i) => {
    row.forEach((entry, j) => {
      expect(matrix![i]![j]!).toBeCloseTo(entry, digits);
    });
  });
};

describe("pooled covariance", () => {
  it("STAT-1: relative covariances are pooled by their degrees of freedom", () => {
    const pooled = pooledCovariance([FOUR, TWO]);
    expect(pooled.scale).toBe("relative");
    expect(pooled.conditions[0]!.means[0]).toBeCloseTo(1.0025, 15);
    expect(pooled.conditions[0]!.means[1]).toBeCloseTo(2.0175, 15);
    expect(pooled.conditions[1]!.means[1]).toBeCloseTo(1.015, 15);
    close(
      pooled.conditions[0]!.covariance,
      [
        [0.00029021, 0.00020189],
        [0.00020189, 0.00023545],
      ],
      8,
    );
    close(
      pooled.covariance,
      [
        [0.00026668, 0.00022458],
        [0.00022458, 0.00028578],
      ],
      8,
    );
    expect(pooled.dof).toBe(4);
    expect(pooled.conditions.map((condition) => condition.dof)).toEqual([3, 1]);
  });

  it("STAT-1: absolute covariances are pooled in the readings' own unit", () => {
    const pooled = pooledCovariance([FOUR, TWO], "absolute");
    close(
      pooled.covariance,
      [
        [0.00146875, 0.00068125],
        [0.00068125, 0.00083125],
      ],
      15,
    );
  });

  it("STAT-1: channels that fluctuate together keep a correlation of one", () => {
    // Every reading is the condition's own pair times a common output.
    const outputs = [0.99, 1.0, 1.03];
    const pooled = pooledCovariance([outputs.map((o) => [3 * o, 8 * o]), outputs.map((o) => [2 * o, 0.5 * o])]);
    const [[a, b], [, c]] = pooled.covariance as unknown as [[number, number], [number, number]];
    expect(b / Math.sqrt(a * c)).toBeCloseTo(1, 12);
    expect(a).toBeCloseTo(c, 15);
  });

  it("STAT-1: a relative covariance does not depend on the unit of a column", () => {
    // Gains of powers of two: the scaling itself is exact.
    const gain = fc.integer({ min: -20, max: 20 }).map((n) => (n < 0 ? 1 / (1 << -n) : 1 << n));
    const reading = fc.double({ min: 0.5, max: 2, noNaN: true });
    const rows = fc.array(fc.tuple(reading, reading), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(rows, rows, gain, (first, second, factor) => {
        const scaled = [first, second].map((condition) => condition.map(([a, b]) => [a * factor, b]));
        expect(pooledCovariance(scaled).covariance).toEqual(pooledCovariance([first, second]).covariance);
      }),
    );
  });

  it("STAT-1: identical repeats have exactly their own mean and no covariance", () => {
    const pooled = pooledCovariance([[[0.1], [0.1], [0.1]]]);
    expect(pooled.conditions[0]!.means).toEqual([0.1]);
    expect(pooled.covariance).toEqual([[0]]);
    expect(pooled.dof).toBe(2);
  });

  it("STAT-2: a single reading has a mean and changes nothing in the pool", () => {
    const without = pooledCovariance([FOUR, TWO]);
    const withOne = pooledCovariance([FOUR, ONE, TWO]);
    expect(withOne.covariance).toEqual(without.covariance);
    expect(withOne.dof).toBe(without.dof);
    expect(withOne.conditions[1]).toEqual({ count: 1, means: [7, 3], covariance: null, dof: 0 });
  });

  it("STAT-2: without repeats anywhere covariance and degrees of freedom are unknown, not zero", () => {
    const pooled = pooledCovariance([ONE, ONE]);
    expect(pooled.covariance).toBeNull();
    expect(pooled.dof).toBeNull();
  });

  it("STAT-2: pooling a selection of scatters is pooling those conditions alone", () => {
    const all = pooledCovariance([FOUR, TWO, ONE]);
    expect(poolScatters([all.conditions[1]!])).toEqual({ covariance: all.conditions[1]!.covariance, dof: 1 });
    expect(() => poolScatters([])).toThrow("at least one condition");
    const other = pooledCovariance([[[1], [2]]]);
    expect(() => poolScatters([all.conditions[0]!, other.conditions[0]!])).toThrow(
      "Condition 2 has 1 columns where the first has 2",
    );
  });

  it("STAT-3: a bad reading is named by condition, reading and column", () => {
    expect(() => pooledCovariance([])).toThrow("at least one condition");
    expect(() => pooledCovariance([FOUR, []])).toThrow("Condition 2 has no readings");
    expect(() => pooledCovariance([FOUR, [[1, 2], [1]]])).toThrow("Condition 2, reading 2 has 1 columns");
    expect(() => pooledCovariance([[[1, Number.NaN]]])).toThrow("Condition 1, reading 1, column 2 is NaN");
    expect(() => pooledCovariance([[[1], [Infinity]]])).toThrow("Condition 1, reading 2, column 1 is Infinity");
  });

  it("STAT-3: a relative covariance about a mean of zero is refused with the way out", () => {
    const rows = [[-1], [1]];
    expect(() => pooledCovariance([rows])).toThrow("Condition 1, column 1: the mean is zero");
    expect(pooledCovariance([rows], "absolute").covariance).toEqual([[2]]);
  });
});
