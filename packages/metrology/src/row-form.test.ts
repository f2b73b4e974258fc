import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Column, ColumnGraph, type Varying } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { forward, Operation, type OperationCode } from "./operations.ts";
import { type RowForm, RowForms } from "./row-form.ts";

const ROWS = 4;
const TRIALS = 3;
const WEIGHTS = Float64Array.of(0.4, 0.3, 0.2, 0.1);

/** A formula over rows and trials, as a form and as plain numbers beside it, rows × trials. */
interface Both {
  readonly form: RowForm;
  readonly plain: readonly (readonly number[])[];
}

class Bench {
  readonly graph = new ColumnGraph();
  readonly forms = new RowForms(this.graph, ROWS);
  sources = 0;

  column(values: readonly number[]): Both {
    return {
      form: this.forms.column(Float64Array.from(values)),
      plain: values.map((x) => Array<number>(TRIALS).fill(x)),
    };
  }

  scalar(values: readonly number[]): Both {
    this.sources++;
    const [made] = this.graph.add({
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
    return { form: this.forms.scalar(made!), plain: Array<readonly number[]>(ROWS).fill(values) };
  }

  apply(operation: OperationCode, a: Both, b?: Both, c = 0): Both {
    return {
      form: this.forms.apply(operation, a.form, b?.form, c),
      plain: a.plain.map((row, r) => row.map((x, t) => forward(operation, x, b ? b.plain[r]![t]! : 0, c))),
    };
  }

  mean({ form }: Both): Varying {
    return this.forms.mean(form, WEIGHTS);
  }

  check(both: Both, tolerance = 1e-12): void {
    const mean = this.mean(both);
    const expected = Array.from({ length: TRIALS }, (_, t) =>
      both.plain.reduce((total, row, r) => total + WEIGHTS[r]! * row[t]!, 0),
    );
    let found = Array<number>(TRIALS).fill(mean as number);
    if (typeof mean !== "number") {
      const work = schedule([mean], TRIALS);
      work.run(TRIALS);
      found = [...work.results[0]!];
    }
    const size = both.plain.flat().reduce((most, x) => Math.max(most, Math.abs(x)), 1);
    expected.forEach((x, t) => {
      expect(Math.abs(found[t]! - x)).toBeLessThanOrEqual(tolerance * size);
    });
  }
}

/** How many tasks stand behind a column. */
function tasksBehind(column: Varying): number {
  const seen = new Set<object>();
  const visit = ({ task }: Column): void => {
    if (seen.has(task)) return;
    seen.add(task);
    task.inputs.forEach(visit);
  };
  if (typeof column !== "number") visit(column);
  return seen.size;
}

const { add, subtract, multiply, divide, negate, squareRoot, power, exponential } = Operation;

describe("formulas over rows while the scalars vary", () => {
  it("MC-5: a net signal (M − b·t)/(1 + α·(T − T₀)) over a divisor, averaged", () => {
    const bench = new Bench();
    const [m, t, monitor] = [
      bench.column([6.5, 6.4, 6.6, 6.5]),
      bench.column([30, 31, 29, 30]),
      bench.column([1, 1.1, 0.9, 1]),
    ];
    const [b, alpha] = [bench.scalar([0.01, 0.02, 0.03]), bench.scalar([-0.001, 0.002, 0])];
    for (const temperature of [
      [3, 3, 3, 3],
      [3, 1, 3, -2],
    ]) {
      const gain = bench.apply(
        add,
        bench.apply(multiply, alpha, bench.column(temperature)),
        bench.column([1, 1, 1, 1]),
      );
      const net = bench.apply(divide, bench.apply(subtract, m, bench.apply(multiply, b, t)), gain);
      bench.check(net);
      bench.check(bench.apply(divide, net, monitor));
    }
  });

  it("MC-5: rows that do not differ in what is not linear cost no more than one", () => {
    const work = (temperature: number[]) => {
      const bench = new Bench();
      const alpha = bench.scalar([-0.001, 0.002, 0]);
      const gain = bench.apply(
        add,
        bench.apply(multiply, alpha, bench.column(temperature)),
        bench.column([1, 1, 1, 1]),
      );
      const net = bench.apply(divide, bench.apply(subtract, bench.column([6, 7, 8, 9]), bench.scalar([1, 2, 3])), gain);
      return tasksBehind(bench.mean(net));
    };
    const [alike, two, four] = [work([2, 2, 2, 2]), work([2, 2, 3, 3]), work([1, 2, 3, 4])];
    expect(alike).toBeLessThanOrEqual(6); // two sources, gain, one over it, signal, product
    expect(two).toBeGreaterThan(alike);
    expect(four).toBeGreaterThan(two);
  });

  it("MC-5: what no scalar enters is a number", () => {
    const bench = new Bench();
    const product = bench.apply(multiply, bench.column([1, 2, 3, 4]), bench.column([2, 2, 2, 2]));
    expect(bench.mean(product)).toBeCloseTo(0.4 * 2 + 0.3 * 4 + 0.2 * 6 + 0.1 * 8, 12);
    expect(bench.mean(bench.apply(squareRoot, product))).toBeTypeOf("number");
  });

  it("MC-5: sums cancel: a scalar that is taken away again is gone", () => {
    const bench = new Bench();
    const [m, b] = [bench.column([1, 2, 3, 4]), bench.scalar([5, 6, 7])];
    const difference = bench.apply(subtract, bench.apply(add, m, b), b);
    expect(bench.mean(difference)).toBeCloseTo(2, 12);
  });

  it("MC-5: sums of forms with a common factor, with unlike ones, and with none", () => {
    const bench = new Bench();
    const [x, y] = [bench.scalar([2, 3, 4]), bench.scalar([0.5, 0.25, 2])];
    const [m, n] = [bench.column([1, 2, 3, 4]), bench.column([4, 0, -1, 2])];
    const [xm, xn, yn] = [bench.apply(multiply, x, m), bench.apply(multiply, x, n), bench.apply(multiply, y, n)];
    for (const [a, b] of [
      [xm, xn],
      [xm, yn],
      [xm, m],
      [m, xn],
      [xm, x],
      [y, bench.apply(divide, xm, y)],
    ] as const)
      for (const operation of [add, subtract]) bench.check(bench.apply(operation, a, b));
    bench.check(bench.apply(negate, bench.apply(add, xm, yn)));
  });

  it("MC-5: products and quotients of sums that differ from row to row", () => {
    const bench = new Bench();
    const [x, y] = [bench.scalar([2, 3, 4]), bench.scalar([0.5, 0.25, 2])];
    const [m, n] = [bench.column([1, 2, 3, 4]), bench.column([4, 5, 1, 2])];
    const [first, second] = [bench.apply(add, x, m), bench.apply(add, y, n)];
    bench.check(bench.apply(multiply, first, second));
    bench.check(bench.apply(divide, first, second));
    bench.check(bench.apply(divide, m, second));
    bench.check(bench.apply(divide, x, bench.apply(multiply, y, n)));
    bench.check(bench.apply(power, bench.apply(multiply, first, x), undefined, -1.5));
    bench.check(bench.apply(exponential, bench.apply(negate, first)));
  });

  it("MC-5: a weight of zero keeps a scalar out", () => {
    const bench = new Bench();
    const kept = bench.apply(multiply, bench.scalar([1, 2, 3]), bench.column([0, 0, 0, 0]));
    const sum = bench.apply(add, bench.column([1, 1, 1, 1]), kept);
    expect(bench.mean(sum)).toBeCloseTo(1, 12);
  });

  it("MC-5: whatever the formula, its mean is that of its rows", () => {
    const unary = [negate, exponential, power] as OperationCode[];
    const step = fc.record({
      operation: fc.constantFrom<OperationCode>(add, subtract, multiply, divide, negate, power, exponential),
      a: fc.nat(),
      b: fc.nat(),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 12 }), (steps) => {
        const bench = new Bench();
        const nodes: Both[] = [
          bench.column([1, 2, 3, 4]),
          bench.column([0.5, 0.5, 0.5, 0.5]),
          bench.column([0, 1, 0, 1]),
          bench.scalar([0.9, 1.1, 1]),
          bench.scalar([-0.2, 0.1, 0.3]),
        ];
        for (const { operation, a, b } of steps) {
          const [left, right] = [nodes[a % nodes.length]!, nodes[b % nodes.length]!];
          const made = bench.apply(operation, left, unary.includes(operation) ? undefined : right, 2);
          // far from one, and near a division by zero, the order of the sums shows in the digits
          const sizes = made.plain.flat().map(Math.abs);
          if (sizes.every((x) => x > 1e-2 && x < 1e2)) nodes.push(made);
        }
        for (const node of nodes) bench.check(node, 1e-10);
      }),
      { numRuns: 500 },
    );
  });
});
