import { describe, expect, it } from "vitest";
import { ColumnGraph, type Varying } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { implicitRoot, type RootSpec } from "./implicit-root.ts";
import { addImplicitRoot } from "./implicit-root-columns.ts";
import { Program } from "./program.ts";
import { ONE } from "./unit.ts";

const TRIALS = 101;

const slots = (...symbols: string[]) => symbols.map((symbol) => ({ symbol, unit: ONE }));

/** y·e^y = x + c: Lambert's function. */
const LAMBERT: RootSpec = {
  program: new Program([], slots("x", "c", "y"), (_, [x, c, y]) => [y!.times(y!.exponential()).minus(x!).minus(c!)]),
  low: 1e-9,
  high: 4,
};

/** The radius b of a disc blurred by one that falls to a half of its middle at x: both operands of the disc vary. */
const EDGE: RootSpec = {
  program: new Program([], slots("x", "b"), (_, [x, b]) => [
    x!.blurredDisc(b!).over(b!.times(b!).over(-2).exponential().negative().plus(1)).minus(0.5),
  ]),
  low: 1e-3,
  high: 12,
};

function both(spec: RootSpec, at: readonly number[], trials: readonly (readonly number[] | number)[]) {
  const graph = new ColumnGraph();
  const inputs = trials.map((values): Varying => {
    if (typeof values === "number") return values;
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
  });
  const estimates = Float64Array.from(at);
  const state = implicitRoot.evaluate(spec, estimates, []);
  const work = schedule(addImplicitRoot(graph, spec, inputs, estimates, state), TRIALS);
  work.run(TRIALS);
  const single = Array.from({ length: TRIALS }, (_, i) => {
    try {
      const own = Float64Array.from(trials, (values) => (typeof values === "number" ? values : values[i]!));
      return implicitRoot.evaluate(spec, own, []).outputs[0]!;
    } catch {
      return Number.NaN;
    }
  });
  return { together: [...work.results[0]!], single };
}

const spread = (from: number, to: number) =>
  Array.from({ length: TRIALS }, (_, i) => from + ((to - from) * ((i * 37) % TRIALS)) / (TRIALS - 1));

describe("the root of an equation in every trial", () => {
  it("MC-6: Lambert's function comes out: W(1) = 0.5671432904 (C)", () => {
    const { together } = both(LAMBERT, [2, 0], [Array<number>(TRIALS).fill(1), 0]);
    for (const root of together) expect(root).toBeCloseTo(0.567143290409784, 14);
  });

  it.each([
    ["one input", [2, 0], [spread(0.5, 20), 0]],
    ["two inputs", [2, 0.5], [spread(0.5, 20), spread(1, 0.2)]],
  ] as const)("MC-6: near and far from the estimates the root is the kernel's, with %s", (_, at, trials) => {
    const { together, single } = both(LAMBERT, at, trials);
    together.forEach((root, i) => {
      expect(Math.abs(root / single[i]! - 1)).toBeLessThan(1e-13);
    });
    expect(new Set(together).size).toBe(TRIALS);
  });

  it("MC-6: so is the edge of a blurred disc, up to where there is none", () => {
    const { together, single } = both(EDGE, [3], [spread(0.8, 6)]);
    let none = 0;
    together.forEach((root, i) => {
      if (Number.isNaN(single[i]!)) {
        none++;
        expect(root).toBeNaN();
      } else expect(Math.abs(root / single[i]! - 1)).toBeLessThan(1e-9);
    });
    // a disc of no size at all is a Gaussian, and falls to a half at √(2 ln 2) = 1.177
    expect(none).toBe(spread(0.8, 6).filter((x) => x < 1.1774).length);
    expect(none).toBeGreaterThan(5);
  });

  it("MC-6: where an operation refuses its operands, or an input is no number, the trial is NaN and no other", () => {
    const xs = spread(2, 6);
    [xs[3], xs[5]] = [-1, Number.NaN];
    const { together, single } = both(EDGE, [3], [xs]);
    expect(together[3]).toBeNaN();
    expect(together[5]).toBeNaN();
    expect(together.filter((root) => Number.isNaN(root))).toHaveLength(2);
    expect(together[4]).toBeCloseTo(single[4]!, 9);
  });
});
