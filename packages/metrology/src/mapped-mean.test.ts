import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evaluateAt } from "./evaluation.ts";
import { gradient, readingGradient } from "./gradient.ts";
import { type MeanState, mappedMean, mean } from "./mapped-mean.ts";
import { Model } from "./model.ts";
import { Program } from "./program.ts";
import { differenceQuotient } from "./testing/difference-quotient.ts";
import { ONE, Unit } from "./unit.ts";

const NC = Unit.parse("nC");

/** Two outputs over two columns and two scalars: (M_1 − b)/g and its square over M_2. */
const program = new Program(
  [
    { symbol: "M_1", unit: NC },
    { symbol: "M_2", unit: NC },
  ],
  [
    { symbol: "b", unit: NC },
    { symbol: "g", unit: ONE },
  ],
  ([m1, m2], [b, g]) => {
    const net = m1!.minus(b!).over(g!);
    return [net, net.power(2).over(m2!)];
  },
);
const [B, G] = [0.04, 1.02];

interface Data {
  readonly m1: readonly number[];
  readonly m2: readonly number[];
  readonly weights: readonly number[];
}

/** Rows of the columns that the mean is over: not the first, and not in their order. */
const ROWS = [4, 1, 2, 3];
const DATA: Data = { m1: [99, 6.5, 6.53, 6.49, 6.51], m2: [99, 3.5, 3.48, 3.51, 3.52], weights: [1, 1, 1, 1, 1] };

function averaged({ m1, m2, weights }: Data) {
  const model = new Model();
  const readings = m1.map((_, row) => `r${row}`);
  const column = (name: string, values: readonly number[]) =>
    model.column({ series: "s", name, symbol: name, unit: NC, readings, values });
  const columns = [column("m1", m1), column("m2", m2)];
  const included = column("included", weights);
  const scalars = [
    model.estimate({ key: "b", symbol: "b", label: "background", type: "B", unit: NC, value: B, u: 0.01 }),
    model.estimate({ key: "g", symbol: "g", label: "gain", type: "B", unit: ONE, value: G, u: 0.01 }),
  ];
  return { model, scalars, ...mean(model, { program, columns, rows: ROWS, included }, scalars) };
}

const net = (m: number) => (m - B) / G;
const leftOut = (...rows: number[]): Data => ({
  ...DATA,
  weights: DATA.weights.map((w, i) => (rows.includes(i) ? 0 : w)),
});

describe("the mean of a formula over rows", () => {
  it("KERN-1: it is the weighted mean of what the formula makes of each row, and keeps that for every row", () => {
    const { means, state } = averaged(DATA);
    const nets = ROWS.map((row) => net(DATA.m1[row]!));
    const squares = ROWS.map((row, i) => (nets[i]! * nets[i]!) / DATA.m2[row]!);
    expect(means[0]!.value).toBeCloseTo(nets.reduce((a, b) => a + b) / 4, 14);
    expect(means[1]!.value).toBeCloseTo(squares.reduce((a, b) => a + b) / 4, 13);
    expect(means.map(({ unit }) => unit.symbol)).toEqual(["nC", "nC"]);
    [...nets, ...squares].forEach((value, i) => {
      expect(state.perRow[i]).toBeCloseTo(value, 13);
    });
    const uneven = averaged({ ...DATA, weights: [0, 1, 0.5, 0, 2] });
    expect(uneven.means[0]!.value).toBeCloseTo((net(6.5) + 0.5 * net(6.53) + 2 * net(6.51)) / 3.5, 13);
  });

  it("KERN-2: its Jacobian to the scalars agrees with differences to 1e-9", () => {
    const { model, means, scalars } = averaged({ ...DATA, weights: [1, 0.5, 0, 1, 2] });
    for (const one of means) {
      const adjoints = gradient(model, one.index);
      for (const { index, value } of scalars) {
        const f = (x: number) => evaluateAt(model, new Map([[index, x]])).values[one.index]!;
        const difference = differenceQuotient(f, value, 0.01);
        expect(Math.abs(adjoints[index]! - difference)).toBeLessThanOrEqual(1e-9 * Math.abs(difference));
      }
    }
    // ∂/∂b of (M − b)/g is −1/g whatever the rows
    expect(gradient(model, means[0]!.index)[scalars[0]!.index]).toBeCloseTo(-1 / G, 14);
  });

  it("KERN-3: its gradient to every reading and every weight agrees with differences to 1e-9", () => {
    // one of the two outputs, any weights of a mean that stays a mean, signals of a small field
    const signal = fc.double({ min: 2, max: 20, noNaN: true });
    const weight = fc.double({ min: 0.25, max: 2, noNaN: true });
    const five = (one: fc.Arbitrary<number>) => fc.array(one, { minLength: 5, maxLength: 5 });
    fc.assert(
      fc.property(five(signal), five(signal), five(weight), fc.constantFrom(0, 1), (m1, m2, weights, output) => {
        const data: Data = { m1, m2, weights };
        const { model, means } = averaged(data);
        const found = readingGradient(model, gradient(model, means[output]!.index));
        const scale = Math.max(...found.flatMap((one) => [...one].map(Math.abs)));
        (["m1", "m2", "weights"] as const).forEach((name, column) => {
          for (let row = 0; row < 5; row++) {
            const f = (x: number) =>
              averaged({ ...data, [name]: data[name].map((own, i) => (i === row ? x : own)) }).means[output]!.value;
            const difference = differenceQuotient(f, data[name][row]!, 0.004);
            expect(Math.abs(found[column]![row]! - difference)).toBeLessThanOrEqual(1e-9 * scale);
          }
        });
      }),
      { numRuns: 25 },
    );
  });

  it("KERN-3: a row outside the mean has no derivative, and a node before the mean none by any reading", () => {
    const { model, means, scalars } = averaged(DATA);
    const found = readingGradient(model, gradient(model, means[1]!.index));
    expect(found.map((column) => column[0])).toEqual([0, 0, 0]);
    expect(found[0]!.slice(1).every((derivative) => derivative > 0)).toBe(true);
    for (const column of readingGradient(model, gradient(model, scalars[0]!.index)))
      expect([...column]).toEqual([0, 0, 0, 0, 0]);
  });

  it("KERN-3: a cell that two means take in has the sum of both derivatives", () => {
    const { model, means, scalars } = averaged(DATA);
    const again = mean(model, { program, columns: [0, 1], rows: [1, 2], included: 2 }, scalars).means[0]!;
    const found = readingGradient(model, gradient(model, means[0]!.plus(again).index));
    // 1/g over four rows, and over two
    expect(found[0]![2]).toBeCloseTo((1 / 4 + 1 / 2) / G, 14);
    expect(found[0]![3]).toBeCloseTo(1 / 4 / G, 14);
  });

  it("KERN-4: a reading that is left out does no harm, whether it holds a number or none", () => {
    const number = averaged({ ...leftOut(2), m1: [99, 6.5, 1e6, 6.49, 6.51] });
    const none = averaged({
      ...leftOut(2),
      m1: [99, 6.5, Number.NaN, 6.49, 6.51],
      m2: [99, 3.5, Number.NaN, 3.51, 3.52],
    });
    for (const k of [0, 1]) {
      const [a, b] = [number.means[k]!, none.means[k]!];
      expect(b.value).toBe(a.value);
      const [adjoints, others] = [gradient(none.model, b.index), gradient(number.model, a.index)];
      expect([...adjoints.slice(0, 2)]).toEqual([...others.slice(0, 2)]);
      const [found, other] = [readingGradient(none.model, adjoints), readingGradient(number.model, others)];
      expect(found.every((column) => column.every(Number.isFinite))).toBe(true);
      for (const column of [0, 1]) expect([...found[column]!]).toEqual([...other[column]!]);
      expect(found[0]![2]).toBe(0);
    }
    expect([...none.state.jacobian]).toEqual([...number.state.jacobian]);
    expect(none.state.perRow[2]).toBeNaN();
  });

  it("KERN-4: an output without a number does not hide what the weight does to another", () => {
    // the second channel of r2 was not read: the first output does not need it
    const { model, means } = averaged({ ...leftOut(2), m2: [99, 3.5, Number.NaN, 3.51, 3.52] });
    const [, , weights] = readingGradient(model, gradient(model, means[0]!.index));
    expect(weights![2]).toBeCloseTo((net(6.53) - means[0]!.value) / 3, 14);
    expect(readingGradient(model, gradient(model, means[1]!.index))[2]![2]).toBe(0);
  });

  it("KERN-5: leaving a reading out is its weight going to zero", () => {
    const out = averaged(leftOut(2));
    for (const weight of [1e-3, 1e-6, 1e-9]) {
      const fading = averaged({ ...DATA, weights: [1, 1, weight, 1, 1] });
      const gap = Math.abs(fading.means[0]!.value - out.means[0]!.value);
      expect(gap).toBeLessThan(0.02 * weight);
      expect(gap).toBeGreaterThan(0.001 * weight);
    }
    const gone: Data = {
      m1: DATA.m1.filter((_, i) => i !== 2),
      m2: DATA.m2.filter((_, i) => i !== 2),
      weights: [1, 1, 1, 1],
    };
    const state: MeanState = mappedMean.evaluate(
      { program, columns: [0, 1], rows: [3, 1, 2], included: 2 },
      Float64Array.of(B, G),
      [gone.m1, gone.m2, gone.weights],
    );
    expect([...state.outputs]).toEqual(out.means.map(({ value }) => value));
    expect([...state.jacobian]).toEqual([...out.state.jacobian]);
  });

  it("KERN-5: the derivative by a weight is how far the reading lies from the mean, over the sum of weights", () => {
    const { model, means } = averaged(DATA);
    const weights = readingGradient(model, gradient(model, means[0]!.index))[2]!;
    for (const row of ROWS) expect(weights[row]).toBeCloseTo((net(DATA.m1[row]!) - means[0]!.value) / 4, 14);
    expect(weights.reduce((a, b) => a + b)).toBeCloseTo(0, 15);
  });

  it("KERN-6: a mean of no readings is refused, and so is one over a row or a column that is not there", () => {
    expect(() => averaged(leftOut(...ROWS))).toThrow(new RangeError("a mean of no readings has no value"));
    expect(() => averaged({ m1: [99, 6.5], m2: [99, 3.5], weights: [1, 1] })).toThrow(
      new RangeError("the mean needs row 4 of s/m1, which is not there"),
    );
    const { model, scalars } = averaged(DATA);
    expect(() => mean(model, { program, columns: [0, 7], rows: ROWS, included: 2 }, scalars)).toThrow("column 7");
    expect(() => mean(model, { program, columns: [0, 1], rows: [], included: 2 }, scalars)).toThrow(RangeError);
  });

  it("KERN-6: a column with as many readings as values is needed", () => {
    const column = { series: "s", name: "m", symbol: "m", unit: NC, readings: ["a", "b"], values: [1] };
    expect(() => new Model().column(column)).toThrow("s/m: as many values as readings");
  });
});
