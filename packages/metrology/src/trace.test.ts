import { describe, expect, it } from "vitest";
import { evaluateAt } from "./evaluation.ts";
import { mean } from "./mapped-mean.ts";
import { Model } from "./model.ts";
import { Program } from "./program.ts";
import { budget, propagate } from "./propagation.ts";
import type { Scalar } from "./tape.ts";
import { SPECIMEN, specimen } from "./testing/specimen.ts";
import { type TraceStep, trace } from "./trace.ts";
import { ONE, Unit } from "./unit.ts";

const NC = Unit.parse("nC");

/** Every step of a tree, each as often as it stands there. */
function everyStep(step: TraceStep): TraceStep[] {
  return [step, ...step.inputs.flatMap(everyStep)];
}

function find(step: TraceStep, key: string): TraceStep {
  return everyStep(step).find((one) => one.key === key)!;
}

/** x and y correlated, z by itself; x is used twice. */
function shared() {
  const model = new Model();
  const [x, y] = model.estimates({
    key: "pair",
    type: "B",
    covariance: [0.09, -0.05, -0.05, 0.04],
    elements: [
      { name: "x", symbol: "x", label: "x", unit: ONE, value: 2 },
      { name: "y", symbol: "y", label: "y", unit: ONE, value: 3 },
    ],
  }) as [Scalar, Scalar];
  const z = model.estimate({ key: "z", symbol: "z", label: "z", type: "B", unit: ONE, value: 5, u: 0.1 });
  const left = x.times(y).named("left", "l", "left");
  const right = x.over(z).plus(1).named("right", "r", "right");
  return { model, x, y, z, left, right, result: left.times(right).named("result", "R", "result") };
}

describe("the trace", () => {
  it("TRACE-1: the shares of what stands beneath a number add up to its own, with a shared input and correlations", () => {
    const { model, result } = shared();
    const tree = trace(model, result);
    expect(tree.share).toBeCloseTo(1, 14);
    expect(tree.inputs.map(({ key }) => key)).toEqual(["left", "right"]);
    for (const step of everyStep(tree))
      if (step.inputs.length > 0)
        expect(step.inputs.reduce((total, { share }) => total + share, 0)).toBeCloseTo(step.share, 13);
    // x stands beneath both, each time with what comes by that way: R = x²y/z + xy, share ∂R/∂l·∂l/∂x·cov(x, R)/u²
    const [dx, dy, dz] = [2 * 2 * (3 / 5) + 3, 4 / 5 + 2, (-4 * 3) / 25];
    const variance = dx * dx * 0.09 + dy * dy * 0.04 + dz * dz * 0.01 - 2 * dx * dy * 0.05;
    const flow = dx * 0.09 - dy * 0.05;
    expect(find(tree.inputs[0]!, "pair/x").share).toBeCloseTo((3 * 1.4 * flow) / variance, 13);
    expect(find(tree.inputs[1]!, "pair/x").share).toBeCloseTo(((6 / 5) * flow) / variance, 13);
  });

  it("TRACE-1: so it is in the whole graph, through means and a fit", () => {
    const { model, ratio, relative, factor, result } = specimen();
    for (const node of [ratio, relative, factor, result]) {
      const steps = everyStep(trace(model, node));
      expect(steps.length).toBeGreaterThan(20);
      for (const step of steps)
        if (step.inputs.length > 0)
          expect(step.inputs.reduce((total, { share }) => total + share, 0)).toBeCloseTo(step.share, 11);
    }
  });

  it("TRACE-1: what reaches an input by all ways together is its share in the budget", () => {
    const { model, result } = specimen();
    const ways = new Map<string, number>();
    for (const { input, key, share } of everyStep(trace(model, result)))
      if (input === "estimate") ways.set(key!, (ways.get(key!) ?? 0) + share);
    const lines = budget(propagate(model, result));
    expect([...ways.keys()].sort()).toEqual(lines.map(({ input }) => input).sort());
    for (const { input, share } of lines) expect(ways.get(input)).toBeCloseTo(share, 12);
  });

  it("TRACE-1: a number without uncertainty has shares of zero, not of nothing", () => {
    const model = new Model();
    const two = model.constant({ key: "two", symbol: "2", label: "two", unit: ONE, value: 2 });
    const tree = trace(model, two.times(3).named("six", "s", "six"));
    expect(tree).toMatchObject({ key: "six", value: 6, u: 0, share: 0 });
    expect(tree.inputs).toMatchObject([{ key: "two", input: "constant", share: 0, u: 0 }]);
  });

  it("TRACE-1: where a factor of zero meets an infinite derivative there is nothing to share", () => {
    const model = new Model();
    const x = model.estimate({ key: "x", symbol: "x", label: "x", type: "B", unit: ONE, value: 0, u: 0.1 });
    const tree = trace(model, x.squareRoot().times(0).plus(x));
    expect(tree.inputs).toMatchObject([{ key: "x", share: tree.share }]);
    expect(tree.share).toBeCloseTo(1, 14);
  });

  it("TRACE-2: each step says what it is: key, symbol, label, unit, value, uncertainty, kind of input", () => {
    const { model, result } = specimen();
    const tree = trace(model, result);
    expect(tree).toMatchObject({ key: "result", symbol: "X", label: "result", unit: "nC", value: result.value });
    expect(tree.u).toBe(propagate(model, result).u);
    expect(tree.input).toBeUndefined();
    expect(find(tree, "temperature")).toMatchObject({ input: "estimate", unit: "K", value: 1.5, inputs: [] });
    expect(find(tree, "temperature").u).toBeCloseTo(0.3, 15);
    expect(find(tree, "temperature").formula).toBeUndefined();
    expect(find(tree, "weight/c0/0")).toMatchObject({ input: "constant", unit: "nC²", u: 0, share: 0 });
    for (const { input, formula, inputs } of everyStep(tree)) {
      expect(formula === undefined).toBe(input !== undefined);
      if (input !== undefined) expect(inputs).toEqual([]);
    }
  });

  it("TRACE-2: the numbers put into a step's formula are those of the steps beneath it", () => {
    const { model, relative } = specimen();
    const tree = trace(model, relative);
    expect(tree.inputs.map(({ symbol }) => symbol)).toEqual(["S_2", "S_0"]);
    expect(tree.inputs[0]!.value / tree.inputs[1]!.value).toBe(tree.value);
    const [q1, ratio, q2] = tree.inputs[0]!.inputs;
    expect(q1!.value - ratio!.value * q2!.value).toBe(tree.inputs[0]!.value);
  });

  it("TRACE-2: a mean's readings stand behind it, those left out too and marked as such", () => {
    const { model, light } = specimen();
    const { readings, formula } = find(trace(model, light[1]!), "signal.c1.1");
    expect(formula).toBeDefined();
    expect(readings!.map(({ reading, included }) => [reading, included])).toEqual([
      ["r5", true],
      ["r6", false],
      ["r7", true],
      ["r8", true],
    ]);
    expect(readings!.every(({ series }) => series === "separation")).toBe(true);
    expect(readings![0]!.columns).toEqual([
      { symbol: "M_1", unit: "nC", value: 11.06 },
      { symbol: "M_2", unit: "nC", value: 9.52 },
      { symbol: "t", unit: "s", value: 30 },
    ]);
    expect(readings![1]!.columns[1]!.value).toBeNaN();
    // (11.06 − 0.001·30)/(1 − 0.0009·1.5)
    expect(readings![0]!.value).toBeCloseTo(11.03 / 0.99865, 12);
    const counted = readings!.filter(({ included }) => included);
    expect(counted.reduce((total, { value }) => total + value, 0) / 3).toBeCloseTo(
      find(trace(model, light[1]!), "signal.c1.1").value,
      13,
    );
  });

  it("TRACE-2: each channel of a mean has its own values, and other numbers have no readings", () => {
    const { model, light } = specimen();
    const tree = trace(model, light[0]!);
    const [one, two] = ["signal.c0.1", "signal.c0.2"].map((key) => find(tree, key).readings!);
    expect(one![3]!.value).toBeCloseTo((6.5 - 0.03) / 0.99865, 12);
    expect(two![3]!.value).toBeCloseTo((3.49 - 0.06) / 0.99865, 12);
    expect(tree.readings).toBeUndefined();
    expect(find(tree, "stem-ratio").readings).toBeUndefined();
  });

  it("TRACE-2: readings are found behind a named mean, an unnamed one, one that a factor of zero hides, and two at once", () => {
    const model = new Model();
    const series = (name: string, values: readonly number[]) => {
      const readings = values.map((_, i) => `${name}${i}`);
      const column = model.column({ series: name, name: "m", symbol: "M", unit: NC, readings, values });
      const weights = values.map(() => 1);
      const included = model.column({
        series: name,
        name: "included",
        symbol: "w",
        unit: ONE,
        readings,
        values: weights,
      });
      const program = new Program([{ symbol: "M", unit: NC }], [], ([m]) => [m!.times(2)]);
      return mean(model, { program, columns: [column], rows: values.map((_, i) => i), included }, []).means[0]!;
    };
    const [a, b] = [series("a", [1, 2]), series("b", [3])];
    const ids = (node: Scalar) => trace(model, node).readings?.map(({ reading }) => reading);
    expect(ids(a)).toEqual(["a0", "a1"]);
    expect(ids(a.times(0))).toEqual(["a0", "a1"]);
    expect(ids(b.over(a))).toEqual(["a0", "a1", "b0"]);
    b.named("b", "b", "b");
    expect(ids(b.over(a))).toEqual(["a0", "a1"]);
    expect(ids(b)).toEqual(["b0"]);
    expect(trace(model, b.over(a)).inputs).toMatchObject([{ key: "b", readings: [{ reading: "b0", value: 6 }] }]);
  });

  it("TRACE-5: what fills a kernel without a name of its own is gone through, to the names beneath it", () => {
    const { model, light } = specimen();
    const signal = find(trace(model, light[0]!), "signal.c0.1");
    expect(signal.inputs.map(({ key }) => key)).toEqual([
      "background/1",
      "temperature-coefficient",
      "temperature",
      "separation/c0/repeats/1",
    ]);
    expect(everyStep(signal).every(({ symbol }) => symbol !== "")).toBe(true);
  });

  it("TRACE-5: a fit stands on all of its points, with their levels and weights", () => {
    const { model, ratio } = specimen();
    const keys = trace(model, ratio).inputs.map(({ key }) => key);
    expect(keys.length).toBe(18);
    for (const i of [0, 1, 2])
      for (const key of [`signal.c${i}.1`, `signal.c${i}.2`, `level/c${i}`, `weight/c${i}/1`])
        expect(keys).toContain(key);
  });

  it("TRACE-2: the trace of other inputs shows what is there", () => {
    const { model, light } = specimen();
    const { index } = model.tape.find("temperature")!;
    const at = evaluateAt(model, new Map([[index, 8]]));
    const tree = trace(at, light[0]!);
    expect(tree.value).toBe(at.values[light[0]!.index]);
    expect(find(tree, "temperature").value).toBe(8);
    expect(find(tree, "signal.c0.1").readings![0]!.value).toBeCloseTo((SPECIMEN.signal_1[0]! - 0.03) / 0.9928, 12);
  });

  it("MODEL-4: a node of another model is refused", () => {
    expect(() => trace(shared().model, shared().result)).toThrow("another model");
  });
});
