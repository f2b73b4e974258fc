import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph } from "./column-graph.ts";
import { narrowedVariables } from "./narrowed-variables.ts";
import { Operation } from "./operations.ts";

function draw(graph: ColumnGraph, centre: number, reach: number, flat = false): Column {
  return graph.add({
    inputs: [],
    outputs: 1,
    scratch: 0,
    cost: 5,
    ranges: [{ centre, reach, flat }],
    bind: () => () => {
      throw new Error("a draw is not to be worked out here");
    },
  })[0]!;
}

const { add, multiply, divide, exponential } = Operation;

describe("what a column depends on", () => {
  function graph() {
    const made = new ColumnGraph();
    const [x, y, s] = [draw(made, 5, 0.4), draw(made, 7, 0.3), draw(made, 2, 0.5)];
    const apply = (
      operation: typeof add | typeof multiply | typeof divide | typeof exponential,
      a: Column | number,
      b: Column | number,
    ) => made.apply(operation, a, b, 0) as Column;
    return { x, y, s, apply };
  }

  it("MC-16: two draws that come in only through their mean are one variable, of the mean's range", () => {
    const { x, y, s, apply } = graph();
    const mean = apply(divide, apply(add, x, y), 2);
    const column = apply(exponential, apply(divide, mean, s), 0);
    const variables = narrowedVariables(column, [x, y, s]);
    expect(variables.map((variable) => variable.column.task === s.task)).toEqual([false, true]);
    const [narrowed, other] = variables;
    // the sum is as good a waist as the mean: 12 ± 0.5
    expect(narrowed!.range.centre).toBeCloseTo(12, 12);
    expect(narrowed!.range.reach).toBeCloseTo(0.5, 12);
    expect(narrowed!.range.flat).toBe(false);
    expect(other!.range).toEqual({ centre: 2, reach: 0.5, flat: false });
  });

  it("MC-16: draws that come in by other ways as well stay themselves", () => {
    const { x, y, s, apply } = graph();
    const column = apply(multiply, apply(exponential, apply(divide, apply(add, x, y), s), 0), x);
    expect(narrowedVariables(column, [x, y, s]).map((variable) => variable.column)).toEqual([x, y, s]);
  });

  it("MC-16: what is dear in itself is no variable: it would be worked out in every trial", () => {
    const { x, y, s, apply } = graph();
    const sum = apply(exponential, apply(add, apply(exponential, x, 0), apply(exponential, y, 0)), 0);
    const column = apply(divide, sum, s);
    expect(narrowedVariables(column, [x, y, s]).map((variable) => variable.column)).toEqual([x, y, s]);
  });

  it("MC-16: one draw is itself, with its range", () => {
    const made = new ColumnGraph();
    const x = draw(made, 1, 2, true);
    const column = made.apply(exponential, x, 0, 0) as Column;
    expect(narrowedVariables(column, [x])).toEqual([{ column: x, range: { centre: 1, reach: 2, flat: true } }]);
  });
});
