import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Program } from "./program.ts";
import { Tape } from "./tape.ts";
import { differenceQuotient } from "./testing/difference-quotient.ts";
import { ONE, Unit } from "./unit.ts";

const NC = Unit.parse("nC");

/** Two signals with a common background and gain: three results, the last of them a column as it stands. */
function program() {
  return new Program(
    [
      { symbol: "M_1", unit: NC },
      { symbol: "M_2", unit: NC },
    ],
    [
      { symbol: "b", unit: NC },
      { symbol: "g", unit: ONE },
    ],
    ([m1, m2], [b, g]) => {
      const net = m1!.minus(b!).times(g!);
      return [net, net.over(m2!.minus(b!)).exponential().times(0.5), m2!];
    },
  );
}

/** Invented columns: no two rows alike. */
const columns = (rows: number) => [
  Float64Array.from({ length: rows }, (_, i) => 6.5 + 0.001 * i + 0.01 * (i % 7)),
  Float64Array.from({ length: rows }, (_, i) => 3.5 - 0.0003 * i + 0.02 * (i % 5)),
];
const counting = (rows: number) => Array.from({ length: rows }, (_, i) => i);
const SCALARS = [0.04, 1.02];

describe("a program", () => {
  it.each([1, 255, 256, 257, 700])("MODEL-7: %i rows at once give the bits of each row alone", (rows) => {
    const one = program();
    const data = columns(rows);
    const together = one.evaluate(data, counting(rows), SCALARS);
    expect(together.length).toBe(3 * rows);
    for (let row = 0; row < rows; row++) {
      const alone = one.evaluate(data, [row], SCALARS);
      expect([0, 1, 2].map((k) => together[k * rows + row])).toEqual([...alone]);
    }
  });

  it("MODEL-7: a row's result is the formula's", () => {
    const [m1, m2, b, g] = [6.5, 3.5, 0.04, 1.02];
    const [net, ratio, as] = program().evaluate([[m1], [m2]], [0], [b, g]);
    expect(net).toBe((m1 - b) * g);
    expect(ratio).toBeCloseTo(0.5 * Math.exp(((m1 - b) * g) / (m2 - b)), 14);
    expect(as).toBe(m2);
  });

  it("MODEL-7: rows are taken in the order in which they are asked for, and as often", () => {
    const data = columns(600);
    const result = program().evaluate(data, [599, 3, 3], SCALARS);
    expect([...result.slice(6)]).toEqual([data[1]![599], data[1]![3], data[1]![3]]);
  });

  it("MODEL-7: no rows give no results and no gradient", () => {
    const into = new Float64Array(2);
    program().pullBack(columns(0), [], SCALARS, [], into, new Float64Array(0));
    expect(program().evaluate(columns(0), [], SCALARS).length).toBe(0);
    expect([...into]).toEqual([0, 0]);
  });

  it.each([3, 256, 700])(
    "MODEL-7: the gradient over %i rows is the sum of the rows' gradients, bit for bit",
    (rows) => {
      const one = program();
      const data = columns(rows);
      const seeds = Float64Array.from({ length: 3 * rows }, (_, i) => ((i * 37) % 11) - 5);
      const scalars = new Float64Array(2);
      const cells = new Float64Array(2 * rows);
      one.pullBack(data, counting(rows), SCALARS, seeds, scalars, cells);
      const summed = new Float64Array(2);
      for (let row = 0; row < rows; row++) {
        const own = [0, 1, 2].map((k) => seeds[k * rows + row]!);
        const cell = new Float64Array(2);
        one.pullBack(data, [row], SCALARS, own, summed, cell);
        expect([cells[row], cells[rows + row]]).toEqual([...cell]);
      }
      expect([...scalars]).toEqual([...summed]);
    },
  );

  it("MODEL-7: the gradient agrees with differences to 1e-9, by scalars and by cells", () => {
    // signals around those of a small field, background far below them: the ratio has no pole near
    const signal = fc.double({ min: 2, max: 20, noNaN: true });
    fc.assert(
      fc.property(signal, signal, fc.double({ min: 0, max: 0.5, noNaN: true }), (m1, m2, b) => {
        const one = program();
        const seeds = [0.7, -1.3, 0.2];
        const value = (cells: readonly number[], scalars: readonly number[]) => {
          const results = one.evaluate([[cells[0]!], [cells[1]!]], [0], scalars);
          return seeds.reduce((total, seed, k) => total + seed * results[k]!, 0);
        };
        const scalars = new Float64Array(2);
        const cells = new Float64Array(2);
        one.pullBack([[m1], [m2]], [0], [b, 1.02], seeds, scalars, cells);
        const found = [...cells, ...scalars];
        const at = [m1, m2, b, 1.02];
        const scale = Math.max(...found.map(Math.abs));
        at.forEach((x, i) => {
          const f = (moved: number) => {
            const all = at.map((own, j) => (j === i ? moved : own));
            return value(all.slice(0, 2), all.slice(2));
          };
          expect(Math.abs(found[i]! - differenceQuotient(f, x, 0.01))).toBeLessThanOrEqual(1e-9 * scale);
        });
      }),
    );
  });

  it("MODEL-7: a row without a seed does not touch the gradient, even where it holds no number", () => {
    const seeds = [1, 0, 0.5, 0, 0.25, 0];
    const [scalars, cells] = [new Float64Array(2), new Float64Array(4)];
    program().pullBack(
      [
        [6.5, Number.NaN],
        [3.5, Number.NaN],
      ],
      [0, 1],
      SCALARS,
      seeds,
      scalars,
      cells,
    );
    const [alone, cell] = [new Float64Array(2), new Float64Array(2)];
    program().pullBack([[6.5], [3.5]], [0], SCALARS, [1, 0.5, 0.25], alone, cell);
    expect([...scalars]).toEqual([...alone]);
    expect([...cells]).toEqual([cell[0], 0, cell[1], 0]);
  });

  it.each([1, 256, 700])(
    "MODEL-7: linearised over %i rows it gives the same values, and each result's own gradient",
    (rows) => {
      const one = program();
      const data = columns(rows);
      const weights = Float64Array.from({ length: rows }, (_, i) => (i % 3) / rows);
      const { perRow, jacobian } = one.linearise(data, counting(rows), SCALARS, weights);
      expect([...perRow]).toEqual([...one.evaluate(data, counting(rows), SCALARS)]);
      for (const k of [0, 1, 2]) {
        const seeds = new Float64Array(3 * rows);
        seeds.set(weights, k * rows);
        const own = new Float64Array(2);
        one.pullBack(data, counting(rows), SCALARS, seeds, own);
        expect([...jacobian.subarray(2 * k, 2 * k + 2)]).toEqual([...own]);
      }
    },
  );

  it("MODEL-7: a row of weight zero does not touch what is linearised, even where it holds no number", () => {
    const { jacobian, perRow } = program().linearise(
      [
        [Number.NaN, 6.5],
        [3.5, 3.5],
      ],
      [0, 1],
      SCALARS,
      [0, 1],
    );
    expect([...jacobian]).toEqual([...program().linearise([[6.5], [3.5]], [0], SCALARS, [1]).jacobian]);
    expect(perRow[0]).toBeNaN();
  });

  it("MODEL-7: units of results are worked out, and a program obeys units as any formula does", () => {
    expect(program().units.map(({ symbol }) => symbol)).toEqual(["nC", "1", "nC"]);
    expect(
      () => new Program([{ symbol: "M", unit: NC }], [{ symbol: "g", unit: ONE }], ([m], [g]) => [m!.plus(g!)]),
    ).toThrow(TypeError);
  });

  it("MODEL-4: a program uses nothing but its slots", () => {
    const outside = new Tape().input(1, NC);
    const slot = { symbol: "M", unit: NC };
    expect(() => new Program([slot], [], ([m]) => [m!.plus(outside)])).toThrow("different tapes");
    expect(() => new Program([slot], [], () => [outside])).toThrow("outside it");
  });
});
