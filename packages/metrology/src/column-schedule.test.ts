import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph, type Varying } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { forward, Operation } from "./operations.ts";

const TRIALS = 4;

/** A source that counts how often it was asked. */
function source(graph: ColumnGraph, values: readonly number[], asked = { times: 0 }): Column {
  const [column] = graph.add({
    inputs: [],
    outputs: 1,
    scratch: 0,
    cost: 1,
    bind:
      (_, [out]) =>
      (count) => {
        asked.times++;
        for (let i = 0; i < count; i++) out![i] = values[i]!;
      },
  });
  return column!;
}

describe("a schedule of columns", () => {
  it("MC-4: a long chain works on few columns", () => {
    const graph = new ColumnGraph();
    const first = source(graph, [1, 2, 3, 4]);
    let chain: Varying = first;
    for (let i = 0; i < 200; i++) chain = graph.apply(Operation.add, chain, first, 0);
    const work = schedule([chain as Column], TRIALS);
    expect(work.width).toBeLessThanOrEqual(3);
    work.run(TRIALS);
    expect([...work.results[0]!]).toEqual([201, 402, 603, 804]);
  });

  it("MC-4: only what the results need is worked on, and once", () => {
    const graph = new ColumnGraph();
    const [used, unused] = [{ times: 0 }, { times: 0 }];
    const a = source(graph, [1, 2, 3, 4], used);
    source(graph, [1, 2, 3, 4], unused);
    const sum = graph.apply(Operation.add, a, a, 0) as Column;
    const work = schedule([sum, a, sum], TRIALS);
    work.run(TRIALS);
    expect([used.times, unused.times]).toEqual([1, 0]);
    expect(work.results.map((column) => [...column])).toEqual([
      [2, 4, 6, 8],
      [1, 2, 3, 4],
      [2, 4, 6, 8],
    ]);
  });

  it("MC-4: an output that nobody reads has no column, and scratch is nobody else's", () => {
    const graph = new ColumnGraph();
    const seen: unknown[] = [];
    const input = source(graph, [1, 2, 3, 4]);
    const [, second] = graph.add({
      inputs: [input],
      outputs: 2,
      scratch: 2,
      cost: 1,
      bind(inputs, outputs, scratch) {
        seen.push(outputs[0]);
        const all = [...inputs, outputs[1]!, ...scratch].map((column) => column.byteOffset);
        expect(new Set(all).size).toBe(4);
        return (count) => {
          for (const column of scratch) column.fill(-1);
          for (let i = 0; i < count; i++) outputs[1]![i] = 10 * inputs[0]![i]!;
        };
      },
    });
    const work = schedule([second!, input], TRIALS);
    work.run(TRIALS);
    expect(seen).toEqual([undefined]);
    expect(work.results.map((column) => [...column])).toEqual([
      [10, 20, 30, 40],
      [1, 2, 3, 4],
    ]);
  });

  it("MC-4: columns do not stand apart by a power of two", () => {
    const graph = new ColumnGraph();
    const work = schedule([source(graph, []), source(graph, [])], 2048);
    const apart = Math.abs(work.results[1]!.byteOffset - work.results[0]!.byteOffset);
    expect(apart).toBeGreaterThanOrEqual(2048 * 8);
    expect(apart % 4096).not.toBe(0);
  });

  it("MC-4: whatever the formula, it comes out as it would one trial at a time", () => {
    const codes = [Operation.add, Operation.subtract, Operation.multiply];
    const step = fc.record({
      code: fc.constantFrom(...codes),
      a: fc.nat(),
      b: fc.nat(),
      // combinations of several nodes, so that columns live long
      more: fc.array(fc.nat(), { maxLength: 5 }),
    });
    fc.assert(
      fc.property(
        fc.array(step, { minLength: 1, maxLength: 40 }),
        fc.array(fc.nat(), { minLength: 1, maxLength: 6 }),
        (steps, asked) => {
          const graph = new ColumnGraph();
          const plain = [
            [1.1, 0.9, -1, 0.7],
            [0.2, -0.3, 0.4, 1.2],
          ];
          // how large intermediate numbers may be: rounding is measured against that
          const sizes = [1.1, 1.2];
          const nodes: Varying[] = plain.map((values) => source(graph, values));
          for (const { code, a, b, more } of steps) {
            const [l, r] = [a % nodes.length, b % nodes.length];
            const terms = more.map((m) => m % nodes.length);
            if (terms.length > 0) {
              const summands = terms.map((t) => ({ coefficient: 0.25, of: nodes[t]! }));
              nodes.push(graph.combine(0.5, summands));
              plain.push(plain[0]!.map((_, i) => terms.reduce((sum, t) => sum + 0.25 * plain[t]![i]!, 0.5)));
              sizes.push(terms.reduce((sum, t) => sum + 0.25 * sizes[t]!, 0.5));
            } else {
              nodes.push(graph.apply(code, nodes[l]!, nodes[r]!, 0));
              plain.push(plain[l]!.map((x, i) => forward(code, x, plain[r]![i]!, 0)));
              sizes.push(code === Operation.multiply ? sizes[l]! * sizes[r]! : sizes[l]! + sizes[r]!);
            }
          }
          const wanted = asked.map((k) => k % nodes.length);
          const work = schedule(
            wanted.map((k) => nodes[k] as Column),
            TRIALS,
          );
          work.run(TRIALS);
          work.run(TRIALS); // what the first run left behind must not matter
          wanted.forEach((k, w) => {
            if (sizes[k]! > 1e100) return;
            plain[k]!.forEach((x, i) => {
              expect(Math.abs(work.results[w]![i]! - x)).toBeLessThanOrEqual(1e-13 * sizes[k]!);
            });
          });
        },
      ),
      { numRuns: 300 },
    );
  });
});
