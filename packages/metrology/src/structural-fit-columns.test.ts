import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph, type Varying } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { RandomStream } from "./random-stream.ts";
import { type StructuralSpec, structuralFit } from "./structural-fit.ts";
import { addStructuralFit } from "./structural-fit-columns.ts";
import { standardNormal } from "./symmetric-draws.ts";
import { differenceQuotient } from "./testing/difference-quotient.ts";

const TRIALS = 200;

function source(graph: ColumnGraph, values: ArrayLike<number>): Column {
  const [column] = graph.add({
    inputs: [],
    outputs: 1,
    scratch: 0,
    cost: 1,
    bind:
      (_, [out]) =>
      (count) => {
        for (let i = 0; i < count; i++) out![i] = values[i]!;
      },
  });
  return column!;
}

/** The fit in every trial, together and one by one. @param trials values of each input, or its only one. */
function both(spec: StructuralSpec, at: Float64Array, trials: readonly (ArrayLike<number> | number)[]) {
  const graph = new ColumnGraph();
  const inputs = trials.map((values): Varying => (typeof values === "number" ? values : source(graph, values)));
  const state = structuralFit.evaluate(spec, at, []);
  const work = schedule(addStructuralFit(graph, spec, inputs, state, at), TRIALS);
  work.run(TRIALS);
  const single = Array.from({ length: TRIALS }, (_, i) => {
    const own = Float64Array.from(trials, (values) => (typeof values === "number" ? values : values[i]!));
    try {
      return structuralFit.evaluate(spec, own, []).outputs;
    } catch {
      return undefined;
    }
  });
  return { together: work.results, single, state };
}

/** Normal draws about a value. */
function about(value: number, u: number, key: string): Float64Array {
  const draws = new Float64Array(TRIALS);
  standardNormal().fill(draws, TRIALS, new RandomStream(key), new Int32Array(2 * TRIALS), u, value);
  return draws;
}

/** Two channels, four points, two groups; invented. */
const TWO: StructuralSpec = {
  coordinates: 2,
  intercept: [0, 0, 1, 1],
  levelSpread: [0.002, 0.002, 0.002, 0.004],
  symbols: ["a", "I_1", "I_2"],
};
const TWO_AT = Float64Array.of(
  ...[6.5, 3.5, 1, 17, 17.5, 1, 11, 9.5, 1.001, 23.1, 25.5, 0.999],
  ...[1e-4, 6e-5, 2e-4, 4e-4, 3e-4, 5e-4, 2e-4, 1e-4, 3e-4, 6e-4, 5e-4, 8e-4],
);

/** Three channels, four points, one group; invented. */
const THREE: StructuralSpec = {
  coordinates: 3,
  intercept: [0, 0, 0, 0],
  levelSpread: [0.003, 0.003, 0.003, 0.003],
  symbols: ["a_2", "a_3", "I"],
};
const THREE_AT = Float64Array.of(
  ...[2.2, 1.5, 1.1, 1, 4.1, 3.9, 2.0, 1, 3.0, 2.0, 3.4, 1, 5.2, 4.6, 4.9, 1],
  ...[1e-4, 2e-5, 1e-5, 2e-4, 3e-5, 1e-4, 1e-4, 2e-5, 1e-5, 2e-4, 3e-5, 1e-4],
  ...[1e-4, 2e-5, 1e-5, 2e-4, 3e-5, 1e-4, 1e-4, 2e-5, 1e-5, 2e-4, 3e-5, 1e-4],
);

/** ½Q of two channels, written out again. */
function halfChiSquare(spec: StructuralSpec, x: readonly number[], [a, ...intercepts]: readonly number[]): number {
  return spec.intercept.reduce((total, group, i) => {
    const [intercept, spread, v] = [intercepts[group]!, spec.levelSpread[i]!, 3 * spec.intercept.length + 3 * i];
    const r = x[3 * i]! + a! * x[3 * i + 1]! - intercept * x[3 * i + 2]!;
    const w = x[v]! + 2 * a! * x[v + 1]! + a! * a! * x[v + 2]! + (intercept * spread) ** 2;
    return total + (0.5 * r * r) / w;
  }, 0);
}

function drawn(at: Float64Array, points: number, coordinates: number, relative: number) {
  const measured = points * (coordinates + 1);
  return [...at].map((value, k) => (k < measured ? about(value, relative * value, `x${k}`) : value));
}

describe("the structural fit in every trial", () => {
  it.each([
    ["two channels in two groups", TWO, TWO_AT, 4, 0.002],
    ["two channels in two groups, scattered widely", TWO, TWO_AT, 4, 0.02],
    ["three channels", THREE, THREE_AT, 4, 0.002],
  ] as const)("MC-6: %s: the minimum is the one that the whole search finds", (_, spec, at, points, relative) => {
    const { together, single, state } = both(spec, at, drawn(at, points, spec.coordinates, relative));
    const m = state.outputs.length;
    let moved = 0;
    for (let i = 0; i < TRIALS; i++)
      for (let j = 0; j < m; j++) {
        const u = Math.sqrt(state.ownCovariance[j * m + j]!);
        // the whole search may end a few 1e-6 of u from the minimum
        expect(Math.abs(together[j]![i]! - single[i]![j]!)).toBeLessThan(2e-5 * u);
        moved = Math.max(moved, Math.abs(together[j]![i]! - state.outputs[j]!) / u);
      }
    expect(moved).toBeGreaterThan(1); // and not the estimates over again
  });

  it("MC-6: the slope of χ² vanishes at every trial's parameters", () => {
    const trials = drawn(TWO_AT, 4, 2, 0.005);
    const { together, state } = both(TWO, TWO_AT, trials);
    for (let i = 0; i < TRIALS; i++) {
      const x = trials.map((values) => (typeof values === "number" ? values : values[i]!));
      const theta = [0, 1, 2].map((j) => together[j]![i]!);
      for (let j = 0; j < 3; j++) {
        const u = Math.sqrt(state.ownCovariance[4 * j]!);
        const slope = differenceQuotient((t) => halfChiSquare(TWO, x, theta.with(j, t)), theta[j]!, u);
        // curvature is about 1/u², so slope·u is how far the minimum is, in u
        expect(Math.abs(slope * u)).toBeLessThan(1e-8);
      }
    }
  });

  it("MC-6: two points determine two parameters exactly, in every trial: the ratio of differences", () => {
    const spec: StructuralSpec = { coordinates: 2, intercept: [0, 0], levelSpread: [0, 0], symbols: ["a", "I"] };
    const at = Float64Array.of(6.5, 3.5, 1, 17, 17.5, 1, 1e-4, 6e-5, 2e-4, 4e-4, 3e-4, 5e-4);
    const trials = drawn(at, 2, 2, 0.01).map((values, k) => (k === 2 || k === 5 ? 1 : values));
    const { together } = both(spec, at, trials);
    const x = (k: number, i: number) => (trials[k] as Float64Array)[i]!;
    for (let i = 0; i < TRIALS; i++) {
      const ratio = (x(3, i) - x(0, i)) / (x(4, i) - x(1, i));
      expect(together[0]![i]).toBeCloseTo(-ratio, 12);
      expect(together[1]![i]).toBeCloseTo(x(0, i) - ratio * x(1, i), 11);
    }
  });

  it("MC-6: parameters at the estimates are those at the estimates", () => {
    const { together, state } = both(
      TWO,
      TWO_AT,
      [...TWO_AT].map((value, k) => (k === 0 ? about(value, 0, "x") : value)),
    );
    for (let j = 0; j < 3; j++) expect(together[j]![0]).toBeCloseTo(state.outputs[j]!, 12);
  });

  it("MC-6: a trial far away is searched for from the start, and found", () => {
    const trials = drawn(TWO_AT, 4, 2, 0.002);
    // all signals a hundred times larger in the second trial: no first order prediction leads there
    for (let i = 0; i < 4; i++) for (const c of [0, 1]) (trials[3 * i + c] as Float64Array)[1]! *= 100;
    const { together, single } = both(TWO, TWO_AT, trials);
    for (let j = 0; j < 3; j++) expect(Math.abs(together[j]![1]! / single[1]![j]! - 1)).toBeLessThan(1e-9);
  });

  it("MC-6: where there is no minimum the trial is NaN in all parameters, and the others are not touched", () => {
    const trials = drawn(TWO_AT, 4, 2, 0.002);
    // in the fourth trial there is no signal at all: no line
    for (let i = 0; i < 4; i++) for (const c of [0, 1]) (trials[3 * i + c] as Float64Array)[3] = 0;
    (trials[0] as Float64Array)[7] = Number.NaN;
    const { together, single } = both(TWO, TWO_AT, trials);
    expect(single[3]).toBeUndefined();
    for (let j = 0; j < 3; j++) {
      expect(together[j]![3]).toBeNaN();
      expect(together[j]![7]).toBeNaN();
      expect([...together[j]!].filter((x) => Number.isNaN(x))).toHaveLength(2);
      expect(together[j]![4]).toBeCloseTo(single[4]![j]!, 9);
    }
  });
});
