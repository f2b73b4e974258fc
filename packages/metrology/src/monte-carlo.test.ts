import { describe, expect, it } from "vitest";
import { BLOCKS_PER_BATCH } from "./adaptive-stopping.ts";
import { coverageFactor } from "./distributions.ts";
import { mean } from "./mapped-mean.ts";
import { type Block, Model } from "./model.ts";
import { monteCarlo, summarise } from "./monte-carlo.ts";
import { blockRunner, mergeBlocks, TRIALS_PER_BLOCK } from "./monte-carlo-blocks.ts";
import { Program } from "./program.ts";
import { propagate } from "./propagation.ts";
import { validatePropagation } from "./propagation-validation.ts";
import { fitStructure } from "./structural-fit.ts";
import { specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

const TRIALS = 1_000_000;

function one(block: Partial<Block> & { value?: number; u: number }) {
  const model = new Model();
  const { value = 0, ...rest } = block;
  const x = model.estimate({ key: "x", symbol: "x", label: "x", type: "A", unit: ONE, value, ...rest });
  return { model, x };
}

describe("results of a Monte Carlo run", () => {
  it("MC-12: an estimate itself has its value, its uncertainty and 1.96 of it to either side", () => {
    const { model, x } = one({ value: 7, u: 0.2 });
    const { results, trials, settled } = monteCarlo(model, [x], { seed: 1, trials: TRIALS });
    const [result] = results;
    expect(settled).toBeNull();
    expect(trials).toBe(Math.ceil(TRIALS / TRIALS_PER_BLOCK) * TRIALS_PER_BLOCK);
    expect(result).toMatchObject({ trials, failures: 0, typeAUnknown: false, tolerance: 0.005 });
    // standard errors: u/√M; u/√(2M); an end √(0.025·0.975/M)/f, f = 0.0584/u: 2.67u/√M
    expect(Math.abs(result!.mean! - 7)).toBeLessThan(4 * 0.2e-3);
    expect(Math.abs(result!.u! - 0.2)).toBeLessThan(4 * 0.1415e-3);
    expect(Math.abs(result!.symmetric!.low - (7 - 0.2 * 1.959964))).toBeLessThan(4 * 0.534e-3);
    expect(Math.abs(result!.symmetric!.high - (7 + 0.2 * 1.959964))).toBeLessThan(4 * 0.534e-3);
    // the shortest one wanders along a flat minimum: see supplement-1.test.ts
    expect(Math.abs(result!.shortest!.low - (7 - 0.2 * 1.959964))).toBeLessThan(4 * 0.0104 * 0.2);
  });

  it.each([
    [1, 12.706205],
    [2, 4.302653],
    [5, 2.570582],
    [16, 2.119905],
  ])("MC-11: t with %s degrees of freedom: the interval is ±%s of u (C)", (dof, k) => {
    const { model, x } = one({ u: 0.1, dof });
    const [result] = monteCarlo(model, [x.plus(3)], { seed: 2, trials: TRIALS }).results;
    // density of t at k: a difference of the tail's quantiles gives it
    const density = 0.002 / (coverageFactor(0.951, dof) - coverageFactor(0.949, dof)) / 2;
    const error = (0.1 * Math.sqrt((0.025 * 0.975) / TRIALS)) / density;
    expect(coverageFactor(0.95, dof)).toBeCloseTo(k, 6);
    expect(Math.abs(result!.symmetric!.low - (3 - 0.1 * k))).toBeLessThan(4 * error);
    expect(Math.abs(result!.symmetric!.high - (3 + 0.1 * k))).toBeLessThan(4 * error);
    // moments that t has, and no others
    expect(result!.mean === null).toBe(dof <= 1);
    expect(result!.u === null).toBe(dof <= 2);
    if (dof > 4) expect(Math.abs(result!.u! / (0.1 * Math.sqrt(dof / (dof - 2))) - 1)).toBeLessThan(0.02);
  });

  it("MC-11: without a variance the tolerance follows from the interval's width", () => {
    const { model, x } = one({ u: 0.1, dof: 2 });
    // half of 2·4.30·0.1 over 1.96 is 0.22
    expect(monteCarlo(model, [x], { seed: 2, trials: 20_000 }).results[0]).toMatchObject({ u: null, tolerance: 0.005 });
  });

  it("MC-11: a result with an unknown variance has mean and u of what is known, and no interval", () => {
    const { model, x } = one({ u: 0.1 });
    const odd = model.estimate({
      key: "odd",
      symbol: "o",
      label: "o",
      type: "A",
      unit: ONE,
      value: 2,
      u: 0,
      unknown: true,
    });
    const [sum, known] = monteCarlo(model, [x.plus(odd), x], { seed: 1, trials: 50_000 }).results;
    expect(sum).toMatchObject({ typeAUnknown: true, symmetric: null, shortest: null, tolerance: 0.005 });
    expect(sum!.mean).toBeCloseTo(2, 2);
    expect(sum!.u).toBeCloseTo(0.1, 2);
    expect(known).toMatchObject({ typeAUnknown: false });
    expect(known!.symmetric).not.toBeNull();
  });

  it("MC-6: failures are counted, and everything else is of the trials that succeeded", () => {
    const { model, x } = one({ value: 1, u: 1 });
    const [root, x2] = monteCarlo(model, [x.squareRoot(), x], { seed: 1, trials: 200_000 }).results;
    // P(x < 0) = Φ(−1) = 0.158655; binomial, sd 163
    expect(Math.abs(root!.failures - 0.158655 * 200_704)).toBeLessThan(4 * 164);
    expect(root!.trials + root!.failures).toBe(200_704);
    expect(root!.symmetric!.low).toBeGreaterThanOrEqual(0);
    expect(x2).toMatchObject({ failures: 0, trials: 200_704 });
  });

  it("MC-6: fits that fail are failures of what depends on them, and of nothing else", () => {
    const model = new Model();
    const q = (key: string, value: number, u: number) =>
      model.estimate({ key, symbol: "q", label: key, type: "A", unit: ONE, value, u });
    const fixed = (key: string, value: number) => model.constant({ key, symbol: "V", label: key, unit: ONE, value });
    const level = fixed("e", 1);
    const points = [0, 1].map((i) => ({
      // the second channels of both points may come out alike, and then nothing is determined
      coordinates: [q(`a${i}`, 1 + i, 0.1), i === 0 ? fixed("b0", 0) : q("b1", 0, 0)],
      level,
      covariance: [fixed(`V${i}`, 1), fixed(`W${i}`, 0), fixed(`X${i}`, 1)],
      levelSpread: 0,
      intercept: 0,
    }));
    expect(() => fitStructure(model, points, ["a", "I"], [ONE, ONE])).toThrow("do not determine");
    // so let it vary: rectangular on ±1e-13, of which nothing beyond 1e-13 determines the ratio
    const wide = model.estimate({
      key: "w",
      symbol: "w",
      label: "w",
      type: "B",
      unit: ONE,
      value: 1,
      u: 1,
      distribution: "rectangular",
    });
    const rounded = wide.times(wide).minus(wide.times(wide)); // zero in every trial
    const { parameters } = fitStructure(
      model,
      [
        { ...points[0]!, coordinates: [points[0]!.coordinates[0]!, wide.logarithm()] },
        { ...points[1]!, coordinates: [points[1]!.coordinates[0]!, rounded.plus(2)] },
      ],
      ["a", "I"],
      [ONE, ONE],
    );
    const [slope, sum] = monteCarlo(model, [parameters[0]!, points[0]!.coordinates[0]!.plus(wide)], {
      seed: 1,
      trials: 20_000,
    }).results;
    // the logarithm fails where w < 0: rectangular on 1 ± √3, P = (√3 − 1)/2√3 = 0.2113; binomial, sd 58
    expect(Math.abs(slope!.failures - 0.211325 * 20_480)).toBeLessThan(4 * 58.5);
    expect(sum!.failures).toBe(0);
  });

  it("MC-6: where nearly all trials fail there is no interval", () => {
    const { model, x } = one({ value: -6, u: 1 });
    const [root] = monteCarlo(model, [x.squareRoot()], { seed: 1, trials: 2000 }).results;
    expect(root).toMatchObject({ trials: 0, failures: 2048, mean: null, u: null, symmetric: null, tolerance: null });
  });

  it("MC-4: a result that does not vary is itself, with no uncertainty", () => {
    const { model, x } = one({ value: 3, u: 0 });
    expect(monteCarlo(model, [x.times(2)], { seed: 1, trials: 100 }).results[0]).toEqual({
      mean: 6,
      u: 0,
      symmetric: { low: 6, high: 6 },
      shortest: { low: 6, high: 6 },
      tolerance: 0,
      trials: 2048,
      failures: 0,
      typeAUnknown: false,
    });
  });

  it("MC-7: the same seed gives the same bits, in a number of trials and when parts are put together", () => {
    const { model, ratio, result } = specimen();
    const options = { seed: 5, trials: 10 * TRIALS_PER_BLOCK };
    const run = monteCarlo(model, [ratio, result], options);
    expect(monteCarlo(model, [ratio, result], options)).toEqual(run);
    const parts = [
      [4, 10],
      [0, 3],
      [3, 4],
    ].map(([from, to]) => blockRunner(model, [ratio, result])(5, from!, to!));
    expect(summarise(model, [ratio, result], mergeBlocks(parts))).toEqual(run.results);
    expect(monteCarlo(model, [ratio, result], { ...options, seed: 6 })).not.toEqual(run);
  });

  it("MC-13: a mean of readings with a shared background: Monte Carlo bears the linear route out", () => {
    const model = new Model();
    const readings = ["r1", "r2", "r3"];
    const add = (name: string, values: number[]) =>
      model.column({ series: "s", name, symbol: name, unit: ONE, readings, values: Float64Array.from(values) });
    const columns = [add("M", [6.5, 6.4, 6.6]), add("t", [30, 31, 29])];
    const included = add("included", [1, 1, 1]);
    const b = model.estimate({
      key: "b",
      symbol: "b",
      label: "b",
      type: "A",
      unit: ONE,
      value: 0.01,
      u: 0.002,
      dof: 9,
    });
    const program = new Program(
      ["M", "t"].map((symbol) => ({ symbol, unit: ONE })),
      [{ symbol: "b", unit: ONE }],
      ([m, t], [rate]) => [m!.minus(rate!.times(t!))],
    );
    const { means } = mean(model, { program, columns, rows: [0, 1, 2], included }, [b]);
    const [result] = monteCarlo(model, means, { seed: 1, trials: { digits: 2, part: 0.2, most: 5_000_000 } }).results;
    expect(validatePropagation(propagate(model, means[0]!), result!)).toMatchObject({ agrees: true });
  });
});

describe("a Monte Carlo run that stops by itself", () => {
  it("MC-10: it stops as soon as the figures are good, and they are", () => {
    const { model, x } = one({ value: 7, u: 0.2 });
    const run = monteCarlo(model, [x], { seed: 3, trials: { digits: 2, most: 10_000_000 } });
    expect(run.settled).toBe(true);
    // u 0.20: δ = 0.005. An end's standard error over h batches is 2.67·0.2/√M: twice that is δ at M = 45 600
    expect(run.trials).toBeGreaterThan(20_000);
    expect(run.trials).toBeLessThan(200_000);
    expect(Math.abs(run.results[0]!.symmetric!.high - (7 + 0.2 * 1.959964))).toBeLessThan(2 * 0.005);
    // to one digit two batches suffice
    expect(monteCarlo(model, [x], { seed: 3, trials: { digits: 1, most: 1e7 } }).trials).toBe(
      2 * BLOCKS_PER_BATCH * TRIALS_PER_BLOCK,
    );
  });

  it("MC-10: it is the run of that many trials, to the bit", () => {
    const { model, result } = specimen();
    const adaptive = monteCarlo(model, [result], { seed: 9, trials: { digits: 2, most: 1e6 } });
    const fixed = monteCarlo(model, [result], { seed: 9, trials: adaptive.trials });
    expect(adaptive.results).toEqual(fixed.results);
  });

  it("MC-10: it ends at the most that was allowed, and says that it has not settled", () => {
    const { model, x } = one({ value: 7, u: 0.2 });
    const run = monteCarlo(model, [x], { seed: 3, trials: { digits: 4, most: 25_000 } });
    expect(run.settled).toBe(false);
    expect(run.trials).toBe(3 * BLOCKS_PER_BATCH * TRIALS_PER_BLOCK);
  });

  it("MC-10: every quantity must be good", () => {
    const { model, x } = one({ value: 7, u: 0.2 });
    const wild = model.estimate({ key: "y", symbol: "y", label: "y", type: "A", unit: ONE, value: 1, u: 0.1, dof: 3 });
    const alone = monteCarlo(model, [x], { seed: 3, trials: { digits: 2, most: 1e7 } });
    const both = monteCarlo(model, [x, wild], { seed: 3, trials: { digits: 2, most: 4e5 } });
    expect(both.trials).toBeGreaterThan(alone.trials);
  });

  it("MC-10: without a variance it watches the interval alone", () => {
    const { model, x } = one({ u: 0.1, dof: 1 });
    const run = monteCarlo(model, [x], { seed: 3, trials: { digits: 1, most: 5e6 } });
    expect(run.settled).toBe(true);
    expect(run.results[0]).toMatchObject({ mean: null, u: null });
    // half the width over 1.96 is 0.65: δ = 0.05
    expect(Math.abs(run.results[0]!.symmetric!.high - 1.2706205)).toBeLessThan(2 * 0.05);
  });

  it("MC-15: numbers of trials that cannot be made are refused", () => {
    const { model, x } = one({ u: 1 });
    for (const trials of [0, -5, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => monteCarlo(model, [x], { seed: 1, trials })).toThrow(`${trials} trials`);
      expect(() => monteCarlo(model, [x], { seed: 1, trials: { digits: 2, most: trials } })).toThrow(
        `${trials} trials`,
      );
    }
    expect(() => monteCarlo(model, [x], { seed: -1, trials: 100 })).toThrow("not -1");
    expect(() => monteCarlo(model, [x], { seed: 1, trials: 100, probability: 95 })).toThrow("not 95");
  });
});
