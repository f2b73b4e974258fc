import { describe, expect, it } from "vitest";
import { testHomogeneity } from "./homogeneity.ts";
import { type ConditionScatter, pooledCovariance } from "./pooled-covariance.ts";
import { cos, ln } from "./special.ts";

/** A condition of the given degrees of freedom and variances, uncorrelated. */
const scatter = (dof: number, ...variances: number[]): ConditionScatter => ({
  count: dof + 1,
  means: variances.map(() => 1),
  covariance: dof === 0 ? null : variances.map((v, i) => variances.map((_, j) => (i === j ? v : 0))),
  dof,
});

/** Normal deviates by Box and Muller over a 32-bit generator (mulberry32), for simulations that repeat. */
function normalDeviates(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
  return () => Math.sqrt(-2 * ln(uniform())) * cos(6.283185307179586 * uniform());
}

describe("test of homogeneity", () => {
  it("STAT-4: each condition's variance is compared with the pooled variance of the others alone", () => {
    // Variance ratios and tails computed with scipy 1.17.1, C: ratio 9/1.1, F(4, 8) tail 0.00627397, six tests.
    const result = testHomogeneity([scatter(4, 9, 1), scatter(4, 1, 1.1), scatter(4, 1.2, 0.9)]);
    const [first, second, third] = result.conditions;
    expect(first!.varianceRatio).toBeCloseTo(8.181818182, 9);
    expect(first!.column).toBe(0);
    expect(first!.p).toBeCloseTo(0.037058309882, 11);
    expect(second!.p).toBeCloseTo(0.951860803888, 11);
    expect(second!.column).toBe(1);
    expect(third!.p).toBeCloseTo(0.988973513342, 11);
    expect(result.wild).toEqual([]);
    expect(result.testable).toBe(true);
  });

  it("STAT-4: the level decides, and is one per cent unless given", () => {
    const family = [scatter(4, 9, 1), scatter(4, 1, 1.1), scatter(4, 1.2, 0.9)];
    expect(testHomogeneity(family, { level: 0.05 }).wild).toEqual([0]);
    expect(testHomogeneity(family, { level: 0.03 }).wild).toEqual([]);
    expect(() => testHomogeneity(family, { level: 0 })).toThrow("between 0 and 1");
  });

  it("STAT-4: with fewer than two conditions with repeats nothing can be compared", () => {
    const result = testHomogeneity([scatter(9, 5), scatter(0, 1)]);
    expect(result.testable).toBe(false);
    expect(result.conditions.map((condition) => condition.p)).toEqual([null, null]);
    expect(testHomogeneity([]).testable).toBe(false);
  });

  it("STAT-4: a condition without repeats has no p and takes no part", () => {
    const family = [scatter(4, 9, 1), scatter(4, 1, 1.1), scatter(4, 1.2, 0.9)];
    const result = testHomogeneity([scatter(0, 1, 1), ...family]);
    expect(result.conditions[0]).toEqual({ p: null, column: null, varianceRatio: null, wild: false });
    expect(result.conditions[1]!.p).toBeCloseTo(0.037058309882, 11);
  });

  it("STAT-4: a quiet condition is no evidence", () => {
    const result = testHomogeneity([scatter(9, 1e-8), scatter(9, 1), scatter(9, 1.2)]);
    expect(result.wild).toEqual([]);
  });

  it("STAT-5: a wild condition is set aside and the rest is tested again, so that a second one does not hide", () => {
    // Condition 1 (variance 40) stands in the shadow of condition 0 (2500): against a rest with that one it is quiet.
    const family = [2500, 40, 1, 1.3, 0.8, 1.1].map((variance) => scatter(4, variance));
    const result = testHomogeneity(family);
    expect(result.wild).toEqual([0, 1]);
    expect(result.conditions[1]!.p).toBeLessThan(0.01);
    // Compared with the four quiet conditions alone: 40 / mean(1, 1.3, 0.8, 1.1).
    expect(result.conditions[1]!.varianceRatio).toBeCloseTo(40 / 1.05, 10);
    for (const quiet of [2, 3, 4, 5]) expect(result.conditions[quiet]!.p).toBeGreaterThan(0.5);
    // The quiet ones' p is that of the family without the wild ones.
    const alone = testHomogeneity(family.slice(2));
    expect(result.conditions.slice(2)).toEqual(alone.conditions);
  });

  it("STAT-5: the order of the conditions does not matter, also where tails underflow", () => {
    const variances = [1, 1e300, 1.1, 1e250, 0.9, 1];
    const result = testHomogeneity(variances.map((variance) => scatter(9, variance)));
    expect(result.wild).toEqual([1, 3]);
    expect(testHomogeneity([...variances].reverse().map((v) => scatter(9, v))).wild).toEqual([4, 2]);
  });

  it("STAT-5: of two conditions the wilder one is found, and the last has nothing left to be compared with", () => {
    const result = testHomogeneity([scatter(9, 1), scatter(9, 100)]);
    expect(result.wild).toEqual([1]);
    expect(result.conditions[0]!.p).toBeCloseTo(1, 5);
  });

  it("STAT-6: zero variances are never evidence of excess", () => {
    const result = testHomogeneity([scatter(2, 0, 0), scatter(2, 0, 0), scatter(2, 0, 0)]);
    expect(result.wild).toEqual([]);
    for (const condition of result.conditions) {
      expect(condition.p).toBe(1);
      expect(condition.varianceRatio).toBe(0);
    }
  });

  it("STAT-6: the flicker of one digit beside exact repeats is wild only where no resolution is stated", () => {
    // Readings shown to 0.01: two conditions repeat exactly, one flickers in the last digit (invented).
    const readings = [
      [[1.2], [1.2], [1.2]],
      [[3.44], [3.44], [3.44]],
      [[2.21], [2.22], [2.21]],
    ];
    const scatters = pooledCovariance(readings, "absolute").conditions;
    const resolution = (0.01 * 0.01) / 12;
    expect(testHomogeneity(scatters).wild).toEqual([2]);
    expect(testHomogeneity(scatters).conditions[2]!.p).toBe(0);
    const withResolution = testHomogeneity(scatters, { leastVariances: [[resolution], [resolution], [resolution]] });
    expect(withResolution.wild).toEqual([]);
    expect(withResolution.conditions[2]!.varianceRatio).toBeCloseTo(4, 10);
  });

  it("STAT-6: least variances of another shape or sign are refused", () => {
    const family = [scatter(2, 1), scatter(2, 1)];
    expect(() => testHomogeneity(family, { leastVariances: [[1]] })).toThrow("one row per condition");
    expect(() => testHomogeneity(family, { leastVariances: [[1], [1, 2]] })).toThrow("one value per column");
    expect(() => testHomogeneity(family, { leastVariances: [[1], [-1]] })).toThrow("zero or above");
  });

  it.each([
    [3, 101],
    [5, 102],
    [10, 103],
  ])("STAT-7: at %i repeats a homogeneous family raises an alarm in about one case of a hundred", (repeats, seed) => {
    const normal = normalDeviates(seed);
    const families = 20_000;
    let alarms = 0;
    for (let family = 0; family < families; family++) {
      // Six conditions, two independent channels, 1 % scatter about means that differ by a factor of ten.
      const conditions = Array.from({ length: 6 }, (_, c) =>
        Array.from({ length: repeats }, () => [(1 + 2 * c) * (1 + 0.01 * normal()), 3 * (1 + 0.01 * normal())]),
      );
      if (testHomogeneity(pooledCovariance(conditions).conditions).wild.length > 0) alarms++;
    }
    // 1 % of 20,000 has a standard deviation of 0.07 %.
    expect(alarms / families).toBeGreaterThan(0.0075);
    expect(alarms / families).toBeLessThan(0.0125);
  });

  it("STAT-7: channels that share the beam's fluctuation do not raise more alarms", () => {
    const normal = normalDeviates(104);
    const families = 10_000;
    let alarms = 0;
    for (let family = 0; family < families; family++) {
      const conditions = Array.from({ length: 6 }, () =>
        Array.from({ length: 5 }, () => {
          const output = 1 + 0.01 * normal();
          return [2 * output * (1 + 0.002 * normal()), output * (1 + 0.002 * normal())];
        }),
      );
      if (testHomogeneity(pooledCovariance(conditions).conditions).wild.length > 0) alarms++;
    }
    expect(alarms / families).toBeGreaterThan(0.003);
    expect(alarms / families).toBeLessThan(0.0125);
  });

  it("STAT-7: a condition that scatters ten times as much is found in nearly every family", () => {
    const normal = normalDeviates(105);
    let found = 0;
    for (let family = 0; family < 500; family++) {
      const conditions = Array.from({ length: 6 }, (_, c) =>
        Array.from({ length: 5 }, () => [1 + (c === 4 ? 0.1 : 0.01) * normal()]),
      );
      if (testHomogeneity(pooledCovariance(conditions).conditions).wild.includes(4)) found++;
    }
    expect(found).toBeGreaterThan(490);
  });
});
