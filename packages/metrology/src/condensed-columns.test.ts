import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph, type Range, type Task, type Varying } from "./column-graph.ts";
import { inOrder, schedule } from "./column-schedule.ts";
import { condensed as condensedTo } from "./condensed-columns.ts";
import { implicitRoot, type RootSpec } from "./implicit-root.ts";
import { addKernel } from "./kernel-columns.ts";
import { addMappedMean } from "./mapped-mean-columns.ts";
import { Operation } from "./operations.ts";
import { Program } from "./program.ts";
import { RandomStream } from "./random-stream.ts";
import type { Scalar } from "./tape.ts";
import { ONE } from "./unit.ts";

const TRIALS = 300;

/** A draw, flat over its range and a hundredth beyond it, so that a few trials lie outside. */
function draw(graph: ColumnGraph, key: string, own: Omit<Range, "flat">): Column {
  const range = { ...own, flat: true };
  const [made] = graph.add({
    inputs: [],
    outputs: 1,
    scratch: 0,
    cost: 5,
    ranges: [range],
    bind:
      (_, [out]) =>
      (count) => {
        const stream = new RandomStream(key);
        stream.start(1, 0);
        for (let i = 0; i < count; i++) out![i] = range.centre + 1.01 * range.reach * (2 * stream.nextFraction() - 1);
      },
  });
  return made!;
}

/** Without knowing how good the results have to be. */
function condensed(results: readonly Column[]): Column[] {
  return condensedTo(results.map((column) => ({ column, tolerance: () => undefined })));
}

/** Results the long way and by interpolants, and the tasks behind either. */
function both(results: readonly Column[]) {
  const short = condensed(results);
  const run = (columns: readonly Column[]) => {
    const work = schedule(columns, TRIALS);
    work.run(TRIALS);
    return work.results.map((column) => [...column]);
  };
  return {
    long: run(results),
    short: run(short),
    tasks: { long: inOrder(results), short: inOrder(short) },
  };
}

function expectAlike({ long, short }: ReturnType<typeof both>, accuracy = 5e-6): void {
  long.forEach((values, k) => {
    const range = Math.max(...values) - Math.min(...values);
    expect(range).toBeGreaterThan(0);
    values.forEach((value, i) => {
      expect(Math.abs(short[k]![i]! - value)).toBeLessThan(accuracy * range);
    });
  });
}

const cost = (tasks: readonly Task[]) => tasks.reduce((total, task) => total + task.cost, 0);

/** ½[erf((x + a)/√2σ) − erf((x − a)/√2σ)], a blurred edge of either side. */
function box(x: Scalar, a: Scalar, sigma: Scalar): Scalar {
  const blur = sigma.times(Math.SQRT2);
  return x.plus(a).over(blur).errorFunction().minus(x.minus(a).over(blur).errorFunction()).over(2);
}

const slots = (...symbols: string[]) => symbols.map((symbol) => ({ symbol, unit: ONE }));

/** The half width a whose blurred box falls to a half of its middle at half the measured width. */
const EDGE: RootSpec = {
  program: new Program([], slots("w", "σ", "a"), (_, [w, sigma, a]) => [
    box(w!.over(2), a!, sigma!)
      .over(a!.over(sigma!.times(Math.SQRT2)).errorFunction())
      .minus(0.5),
  ]),
  low: 1e-6,
  high: 8,
};
/** A mean over points of a plane. */
const PLANE = new Program(slots("x", "y"), slots("a_x", "a_y", "σ"), ([x, y], [ax, ay, sigma]) => [
  box(x!, ax!, sigma!).times(box(y!, ay!, sigma!)),
]);
const POINTS = [
  [0.05, 0.15, 0.3, 0.42, 0.49, 0.2],
  [0.4, 0.02, 0.3, 0.1, 0.05, 0.45],
  [1, 2, 1, 2, 1, 1],
];

/** A mean dose over a detector in a field whose widths were measured: dear, and smooth. */
function dose(graph: ColumnGraph, widths: readonly Varying[], sigma: Varying): Column {
  const at = (value: Varying) => (typeof value === "number" ? value : value.task.ranges![0]!.centre);
  const call = { kernel: implicitRoot, spec: EDGE, inputs: [0, 1], first: 2, count: 1 };
  const halves = widths.map((width) => {
    const inputs = Float64Array.of(at(width), at(sigma));
    const state = implicitRoot.evaluate(EDGE, inputs, []);
    return addKernel(graph, call, [width, sigma], inputs, state, [])[0]!;
  });
  const spec = { program: PLANE, columns: [0, 1], rows: [0, 1, 2, 3, 4, 5], included: 2 };
  const [mean] = addMappedMean(graph, spec, [...halves, sigma], POINTS);
  return mean as Column;
}

describe("interpolants in place of what is dear", () => {
  it("MC-16: a mean over a detector in a field of measured widths comes out the same, for a fraction of the cost", () => {
    const graph = new ColumnGraph();
    const widths = [draw(graph, "x", { centre: 5, reach: 0.6 }), draw(graph, "y", { centre: 4.4, reach: 0.5 })];
    const found = both([dose(graph, widths, 1.5)]);
    expectAlike(found);
    expect(cost(found.tasks.short)).toBeLessThan(cost(found.tasks.long) / 20);
  });

  it("MC-16: so in three variables", () => {
    const graph = new ColumnGraph();
    const widths = [draw(graph, "x", { centre: 5, reach: 0.3 }), draw(graph, "y", { centre: 6, reach: 0.3 })];
    const found = both([dose(graph, widths, draw(graph, "σ", { centre: 1.5, reach: 0.2 }))]);
    expectAlike(found);
    expect(found.tasks.short.filter(({ ranges }) => !ranges)).toHaveLength(1);
  });

  it("MC-16: what has no value in a part of the range is interpolated in the rest", () => {
    // no half width belongs to a field narrower than its blur: 2.3548·1.5 = 3.53
    const graph = new ColumnGraph();
    const width = draw(graph, "x", { centre: 4.1, reach: 0.6 });
    const { long, short, tasks } = both([dose(graph, [width, 5], 1.5), width]);
    const none = long[0]!.filter((value) => Number.isNaN(value)).length;
    expect(none).toBeGreaterThan(3);
    long[0]!.forEach((value, i) => {
      if (Number.isNaN(value)) expect(short[0]![i]).toBeNaN();
      else expect(Math.abs(short[0]![i]! - value)).toBeLessThan(1e-6);
    });
    expect(short[0]).not.toEqual(long[0]);
    expect(cost(tasks.short)).toBeLessThan(cost(tasks.long) / 20);
  });

  it("MC-16: a trial beyond the range goes the long way", () => {
    const graph = new ColumnGraph();
    const range = { centre: 5, reach: 0.6 };
    const width = draw(graph, "x", range);
    const { long, short } = both([dose(graph, [width, 5], 1.5), width]);
    const beyond = long[1]!.flatMap((x, i) => (Math.abs(x - range.centre) > range.reach ? [i] : []));
    expect(beyond.length).toBeGreaterThan(0);
    for (const i of beyond) expect(short[0]![i]).toBe(long[0]![i]);
    expect(short[0]).not.toEqual(long[0]);
  });

  it("MC-16: interpolants stand where few draws meet others, and what comes after is worked out as before", () => {
    const graph = new ColumnGraph();
    const [a, b, c, d] = ["a", "b", "c", "d"].map((key) => draw(graph, key, { centre: 5, reach: 0.3 }));
    const [first, second] = [dose(graph, [a!, b!], 1.5), dose(graph, [c!, d!], 1.5)];
    const ratio = graph.apply(Operation.divide, first, second, 0) as Column;
    const scaled = graph.apply(Operation.multiply, ratio, a!, 0) as Column;
    const found = both([scaled, first, a!]);
    expectAlike(found);
    // four draws, two interpolants, quotient and product
    expect(found.tasks.short).toHaveLength(8);
    expect(found.short[2]).toEqual(found.long[2]);
  });

  it("MC-16: what is cheap stays as it is", () => {
    const graph = new ColumnGraph();
    const a = draw(graph, "a", { centre: 5, reach: 0.3 });
    const cheap = graph.apply(Operation.exponential, graph.apply(Operation.multiply, a, a, 0), 0, 0) as Column;
    expect(condensed([cheap, a])).toEqual([cheap, a]);
  });

  /** A dear function of one draw, written by hand. */
  function dear(f: (x: number) => number, range: Omit<Range, "flat">, exact = false): Column {
    const graph = new ColumnGraph();
    const [made] = graph.add({
      inputs: [draw(graph, "x", range)],
      outputs: 1,
      scratch: 0,
      cost: 1e4,
      exact,
      bind:
        ([x], [out]) =>
        (count) => {
          for (let i = 0; i < count; i++) out![i] = f(x![i]!);
        },
    });
    return made!;
  }

  it.each([
    ["a kink", (x: number) => Math.abs(x - 0.3), { centre: 0, reach: 1 }],
    ["a step", (x: number) => (x > 0.1 ? 1 : 0), { centre: 0, reach: 1 }],
    ["a pole nearby", (x: number) => 1 / (x + 1.05), { centre: 0, reach: 1 }],
    ["a root's steep beginning", (x: number) => Math.sqrt(Math.max(0, x)), { centre: 0.4, reach: 1 }],
  ] as const)("MC-16: %s comes out as it is", (_, f, range) => {
    const found = both([dear(f, range)]);
    expectAlike(found, 1e-5);
    expect(found.tasks.short).not.toEqual(found.tasks.long);
  });

  it("MC-16: what has no value for most draws stays as it is", () => {
    const column = dear(Math.sqrt, { centre: -0.2, reach: 1 });
    expect(condensed([column])).toEqual([column]);
  });

  it("MC-16: what is to be known but roughly is interpolated so, and only as a part of that result", () => {
    const column = dear((x) => Math.exp(5 * x), { centre: 0, reach: 1 });
    const rough = condensedTo([
      { column, tolerance: () => 1 },
      { column, tolerance: () => undefined },
    ]);
    const work = schedule([...rough, column], TRIALS);
    work.run(TRIALS);
    const off = (k: number) => Math.max(...work.results[k]!.map((x, i) => Math.abs(x - work.results[2]![i]!)));
    expect(off(0)).toBeLessThan(1);
    expect(off(0)).toBeGreaterThan(1e-3);
    expect(off(1)).toBeLessThan(1e-3);
  });

  it("MC-7: what stands for a result does not depend on what else is asked for", () => {
    const graph = new ColumnGraph();
    const [a, b, c, d] = ["a", "b", "c", "d"].map((key) => draw(graph, key, { centre: 5, reach: 0.3 }));
    const first = dose(graph, [a!, b!], 1.5);
    const many = [a!, b!, c!, d!].map((of) => ({ coefficient: 1, of }));
    // a part of the first, which meets more draws in another result
    const inside = first.task.inputs[0]!;
    const others = [inside, graph.combine(1, [...many, { coefficient: 1, of: inside }]) as Column];
    const alone = both([first]);
    const together = both([...others, first, first]);
    expect(together.short[2]).toEqual(alone.short[0]);
    expect(together.short[3]).toEqual(alone.short[0]);
    expectAlike(together);
    // and is worked out once
    const work = condensed([first, first, ...others]);
    expect(work[1]).toEqual(work[0]);
    expect(work[1]!.task).toBe(work[0]!.task);
  });

  it("MC-16: a fit goes the whole way in every trial", () => {
    const column = dear((x) => x * x, { centre: 1, reach: 0.1 }, true);
    expect(condensed([column])).toEqual([column]);
    const other = dear((x) => x * x, { centre: 1, reach: 0.1 });
    expect(condensed([other])).not.toEqual([other]);
  });

  it("MC-16: the accuracy counts from what varies: a small variation on a large number keeps its own digits", () => {
    expectAlike(both([dear((x) => 1 + 1e-6 * Math.exp(x), { centre: 0, reach: 1 })]));
  });

  it("MC-16: a function of none of its draws is a constant", () => {
    const { short } = both([dear(() => 7.5, { centre: 0, reach: 1 })]);
    for (const value of short[0]!) expect(value).toBeCloseTo(7.5, 13);
  });
});
