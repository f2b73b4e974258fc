import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph, type Varying } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { type MeanSpec, mappedMean } from "./mapped-mean.ts";
import { addMappedMean } from "./mapped-mean-columns.ts";
import { Program } from "./program.ts";
import { ONE, Unit } from "./unit.ts";

const NC = Unit.parse("nC");
const TRIALS = 4;

/** Net signals of two channels, divided by a monitor: columns M₁, M₂, t, T, m; scalars b₁, b₂, α. */
const program = new Program(
  ["M_1", "M_2", "t", "T", "m"].map((symbol, k) => ({ symbol, unit: k < 2 ? NC : ONE })),
  ["b_1", "b_2", "α"].map((symbol, k) => ({ symbol, unit: k < 2 ? NC : ONE })),
  ([m1, m2, t, warmth, monitor], [b1, b2, alpha]) => {
    const gain = alpha!.times(warmth!).plus(1);
    const net = [m1!.minus(b1!.times(t!)).over(gain), m2!.minus(b2!.times(t!)).over(gain)];
    return [...net.map((one) => one.over(monitor!)), ...net];
  },
);
const COLUMNS = [
  [6.51, 6.48, Number.NaN, 6.52, 6.5],
  [3.51, 3.5, 3.6, 3.52, 3.49],
  [30, 30.1, 12, 29.9, 30],
  [1, 2, 1, 1, 1],
  [1.01, 0.99, 1, 1.02, 0.98],
  [1, 1, 0, 1, 1],
];
/** Every fifth row is the third one: left out, and no number. */
const SPEC: MeanSpec = { program, columns: [0, 1, 2, 3, 4], rows: [0, 1, 2, 3, 4], included: 5 };
const B1 = [1e-3, 2e-3, -1e-3, 0];
const B2 = [3e-3, 0, 2e-3, 1e-3];
const ALPHA = [-9e-4, 1e-3, 0, 0.2];

function source(graph: ColumnGraph, values: readonly number[]): Column {
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

/** Results of the batch, and of the kernel called once for each trial. */
function both(spec: MeanSpec, inputs: readonly (readonly number[] | number)[], data = COLUMNS) {
  const graph = new ColumnGraph();
  const scalars = inputs.map((input): Varying => (typeof input === "number" ? input : source(graph, input)));
  const means = addMappedMean(graph, spec, scalars, data);
  const work = schedule(
    means.filter((one) => typeof one !== "number"),
    TRIALS,
  );
  work.run(TRIALS);
  let next = 0;
  const batch = means.map((one) =>
    typeof one === "number" ? Array<number>(TRIALS).fill(one) : [...work.results[next++]!],
  );
  const single = Array.from({ length: TRIALS }, (_, trial) => {
    const at = Float64Array.from(inputs, (input) => (typeof input === "number" ? input : input[trial]!));
    return mappedMean.evaluate(spec, at, data).outputs;
  });
  return { batch, single, means };
}

function expectAlike({ batch, single }: ReturnType<typeof both>): void {
  batch.forEach((output, k) => {
    output.forEach((x, trial) => {
      expect(Math.abs(x / single[trial]![k]! - 1)).toBeLessThan(1e-14);
    });
  });
}

describe("a mapped mean while its scalars vary", () => {
  it("MC-5: every trial has the mean that the kernel finds, readings left out included", () => {
    expectAlike(both(SPEC, [B1, B2, ALPHA]));
  });

  it.each([
    ["b_1", [B1, 2e-3, -9e-4]],
    ["b_2", [1e-3, B2, -9e-4]],
    ["α", [1e-3, 2e-3, ALPHA]],
  ] as const)("MC-5: so has every trial where %s alone varies", (_, inputs) => {
    expectAlike(both(SPEC, inputs));
  });

  it("MC-5: an output that no varying scalar enters is a number", () => {
    const { means } = both(SPEC, [B1, 2e-3, -9e-4]);
    expect(means.map((one) => typeof one)).toEqual(["object", "number", "object", "number"]);
  });

  it("MC-5: weights other than one are shares", () => {
    const weighted = [...COLUMNS.slice(0, 5), [1, 0.5, 0, 2, 1]];
    expectAlike(both(SPEC, [B1, B2, ALPHA], weighted));
  });

  it("MC-5: a program with a literal and a function of rows and scalars", () => {
    const other = new Program([{ symbol: "x", unit: ONE }], [{ symbol: "y", unit: ONE }], ([x], [y]) => [
      x!.times(y!).exponential().plus(x!.plus(y!).squareRoot().times(2)),
      y!.sine(),
    ]);
    const spec: MeanSpec = { program: other, columns: [4], rows: [0, 3, 4], included: 5 };
    expectAlike(both(spec, [[0.3, 0.5, 0.7, 2]]));
  });
});
