import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph, type Varying } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { Operation } from "./operations.ts";

/** A graph with columns of given values. */
function graphOf(...values: number[][]): {
  graph: ColumnGraph;
  columns: Column[];
  evaluate: (of: Varying) => number[];
} {
  const graph = new ColumnGraph();
  const columns = values.map(
    (own) =>
      graph.add({
        inputs: [],
        outputs: 1,
        scratch: 0,
        cost: 1,
        bind:
          (_, [out]) =>
          (count) => {
            for (let i = 0; i < count; i++) out![i] = own[i]!;
          },
      })[0]!,
  );
  const evaluate = (of: Varying) => {
    if (typeof of === "number") return [of];
    const work = schedule([of], 3);
    work.run(3);
    return [...work.results[0]!];
  };
  return { graph, columns, evaluate };
}

describe("a graph of columns", () => {
  it("MC-4: what is the same in every trial is computed at once, and is a number", () => {
    const { graph } = graphOf();
    expect(graph.apply(Operation.multiply, 3, 4, 0)).toBe(12);
    expect(graph.apply(Operation.power, 3, 0, 2)).toBe(9);
    expect(graph.combine(1, [{ coefficient: 2, of: 3 }])).toBe(7);
    expect(graph.combine(5, [])).toBe(5);
  });

  it("MC-4: what is asked for twice is there once", () => {
    const { graph, columns } = graphOf([1, 2, 3], [4, 5, 6]);
    const [a, b] = columns as [Column, Column];
    expect(graph.apply(Operation.add, a, b, 0)).toBe(graph.apply(Operation.add, a, b, 0));
    expect(graph.apply(Operation.add, a, b, 0)).not.toBe(graph.apply(Operation.add, b, a, 0));
    expect(graph.apply(Operation.add, a, 1.5, 0)).not.toBe(graph.apply(Operation.add, a, 1.25, 0));
    expect(graph.apply(Operation.power, a, 0, 3)).not.toBe(graph.apply(Operation.power, a, 0, 4));
    const terms = [
      { coefficient: 2, of: a },
      { coefficient: 3, of: b },
    ];
    expect(graph.combine(1, terms)).toBe(graph.combine(1, terms));
    expect(graph.combine(1, terms)).not.toBe(graph.combine(2, terms));
  });

  it("MC-4: a factor or divisor of one, and a sum of one term, are no work", () => {
    const { graph, columns } = graphOf([1, 2, 3]);
    const a = columns[0]!;
    expect(graph.apply(Operation.multiply, a, 1, 0)).toBe(a);
    expect(graph.apply(Operation.multiply, 1, a, 0)).toBe(a);
    expect(graph.apply(Operation.divide, a, 1, 0)).toBe(a);
    expect(graph.apply(Operation.divide, 1, a, 0)).not.toBe(a);
    expect(graph.combine(0, [{ coefficient: 1, of: a }])).toBe(a);
  });

  it("MC-4: operations read columns and numbers on either side", () => {
    const { graph, columns, evaluate } = graphOf([1, 2, 3], [4, 5, 6]);
    const [a, b] = columns as [Column, Column];
    expect(evaluate(graph.apply(Operation.subtract, a, b, 0))).toEqual([-3, -3, -3]);
    expect(evaluate(graph.apply(Operation.subtract, 10, b, 0))).toEqual([6, 5, 4]);
    expect(evaluate(graph.apply(Operation.subtract, a, 10, 0))).toEqual([-9, -8, -7]);
    expect(evaluate(graph.apply(Operation.multiply, a, a, 0))).toEqual([1, 4, 9]);
    expect(evaluate(graph.apply(Operation.negate, a, 0, 0))).toEqual([-1, -2, -3]);
  });

  it("MC-4: a combination takes its fixed terms into the constant", () => {
    const { graph, columns, evaluate } = graphOf([1, 2, 3], [4, 5, 6]);
    const [a, b] = columns as [Column, Column];
    const sum = graph.combine(1, [
      { coefficient: 2, of: a },
      { coefficient: 10, of: 4 },
      { coefficient: -1, of: b },
    ]);
    expect(evaluate(sum)).toEqual([39, 40, 41]);
  });
});
