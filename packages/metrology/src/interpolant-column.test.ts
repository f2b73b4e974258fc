import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph, type Range } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { interpolantOf } from "./interpolant-column.ts";

const TRIALS = 400;

/** A function of columns that counts how many values it was asked for. */
function built(
  f: (...point: number[]) => number,
  inputs: readonly { readonly range: Range; readonly at: readonly number[] }[],
) {
  const graph = new ColumnGraph();
  const asked = { values: 0 };
  const variables = inputs.map(({ range, at }) => {
    const [column] = graph.add({
      inputs: [],
      outputs: 1,
      scratch: 0,
      cost: 5,
      ranges: [range],
      bind:
        (_, [out]) =>
        (count) => {
          for (let i = 0; i < count; i++) out![i] = at[i]!;
        },
    });
    return { column: column!, range };
  });
  const [column] = graph.add({
    inputs: variables.map((variable) => variable.column),
    outputs: 1,
    scratch: 0,
    cost: 5000,
    bind:
      (given, [out]) =>
      (count) => {
        asked.values += count;
        for (let i = 0; i < count; i++) out![i] = f(...given.map((own) => own[i]!));
      },
  });
  const run = (own: Column) => {
    const work = schedule([own], TRIALS);
    asked.values = 0;
    work.run(TRIALS);
    return { values: [...work.results[0]!], asked: asked.values };
  };
  return { column: column!, variables, run, asked };
}

const NORMAL: Range = { centre: 3, reach: 2, flat: false };
const FLAT: Range = { centre: 3, reach: 2, flat: true };
/** Spread over the range and a tenth beyond it to either side. */
const SPREAD = Array.from({ length: TRIALS }, (_, i) => 0.8 + (4.4 * ((i * 151) % TRIALS)) / (TRIALS - 1));
const beyond = SPREAD.filter((x) => x < 1 || x > 5).length;

describe("an interpolant in place of a column", () => {
  it("MC-16: trials within the range are interpolated, those beyond go the long way, and no others", () => {
    const { column, variables, run } = built(Math.log, [{ range: FLAT, at: SPREAD }]);
    const { values, asked } = run(interpolantOf(column, variables, 0, 5000)!);
    expect(beyond).toBeGreaterThan(20);
    expect(asked).toBe(beyond);
    values.forEach((value, i) => {
      expect(Math.abs(value - Math.log(SPREAD[i]!))).toBeLessThan(5e-6);
    });
  });

  it("MC-16: where there is no value the long way is asked, and says so", () => {
    const f = (x: number) => Math.sqrt(x - 2);
    const { column, variables, run } = built(f, [{ range: FLAT, at: SPREAD }]);
    const { values, asked } = run(interpolantOf(column, variables, 0, 5000)!);
    const none = SPREAD.filter((x) => x < 2).length;
    expect(values.filter((value) => Number.isNaN(value))).toHaveLength(none);
    expect(asked).toBeGreaterThanOrEqual(none);
    expect(asked).toBeLessThan(0.6 * TRIALS);
  });

  it("MC-16: where most trials would have to go the long way there is none", () => {
    const f = (x: number) => Math.sqrt(x - 4);
    const { column, variables } = built(f, [{ range: FLAT, at: SPREAD }]);
    expect(interpolantOf(column, variables, 0, 5000)).toBeUndefined();
    // of normal draws two in a hundred are above 4, four standard deviations being 2: none either
    const normal = built(f, [{ range: NORMAL, at: SPREAD }]);
    expect(interpolantOf(normal.column, normal.variables, 0, 5000)).toBeUndefined();
    // but all of them are above 1
    const all = built((x) => Math.sqrt(x - 1.5), [{ range: NORMAL, at: SPREAD }]);
    expect(interpolantOf(all.column, all.variables, 0, 5000)).toBeDefined();
  });

  it("MC-16: it costs no more to make than the budget, in proportion to what a value costs", () => {
    const front = (x: number, y: number) => Math.tanh(300 * (x - y));
    const inputs = [
      { range: FLAT, at: SPREAD },
      { range: FLAT, at: SPREAD.toReversed() },
    ];
    const cheap = built(front, inputs);
    interpolantOf(cheap.column, cheap.variables, 0, 1000);
    const dear = built(front, inputs);
    interpolantOf(dear.column, dear.variables, 0, 100_000);
    // 1e8 ns over 1e5 ns, in strips of 64
    expect(dear.asked.values).toBeLessThan(1100);
    expect(cheap.asked.values).toBeGreaterThan(5000);
  });

  it("MC-16: a tolerance that is given is made use of", () => {
    const { column, variables, run } = built((x) => Math.exp(x), [{ range: FLAT, at: SPREAD }]);
    const off = (tolerance: number) =>
      Math.max(
        ...run(interpolantOf(column, variables, tolerance, 5000)!).values.map((x, i) =>
          Math.abs(x - Math.exp(SPREAD[i]!)),
        ),
      );
    expect(off(1)).toBeLessThan(1);
    expect(off(1)).toBeGreaterThan(0.01);
    expect(off(0)).toBeLessThan(1e-3);
  });

  it("MC-16: an input that is no number goes the long way too", () => {
    const { column, variables, run } = built(
      (x) => (Number.isNaN(x) ? 7 : x),
      [{ range: FLAT, at: SPREAD.with(5, Number.NaN) }],
    );
    expect(run(interpolantOf(column, variables, 0, 5000)!).values[5]).toBe(7);
  });
});
