import { budget, Model, monteCarlo, ONE, propagate, type Scalar } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { MILLIMETRE } from "./length-unit.ts";
import { OutputCorrections, type OutputCorrectionValue } from "./output-correction-table.ts";

/** An invented detector that over-responds in wide fields and under-responds in small ones; no published values. */
const TABLE: readonly OutputCorrectionValue[] = [
  [5, 1.02, 0.8],
  [10, 1.01, 0.4],
  [20, 1.002, 0.4],
  [100, 1, 0],
].map(([equivalent_square_mm, output_correction, u_percent]) => ({
  equivalent_square_mm: equivalent_square_mm!,
  output_correction: output_correction!,
  u_percent: u_percent!,
  source: "invented",
}));

function reader(values: readonly OutputCorrectionValue[] = TABLE) {
  const model = new Model();
  const table = new OutputCorrections(model, values);
  const square = (name: string, value: number, u = 0) =>
    model.estimate({ key: name, symbol: name, label: name, type: "B", unit: MILLIMETRE, value, u });
  const at = (S: number, role: "field" | "reference" = "field", u = 0, name = `${role}-${S}`) =>
    table.at(name, square(`S ${name}`, S, u), role);
  const u = (node: Scalar) => propagate(model, node).u;
  const lines = (node: Scalar) => new Map(budget(propagate(model, node)).map((line) => [line.input, line]));
  return { model, at, u, lines };
}

const without = (u_percent: number) => TABLE.map((row) => ({ ...row, u_percent }));

describe("output corrections read off a table", () => {
  it("OC-1: are the rows' own at their sizes, in whatever order the rows stand", () => {
    const { at } = reader([...TABLE].reverse());
    for (const { equivalent_square_mm, output_correction } of TABLE) {
      const { factor, beyond } = at(equivalent_square_mm)!;
      expect(factor.value).toBeCloseTo(output_correction, 14);
      expect(factor.unit).toBe(ONE);
      expect(beyond).toBeUndefined();
    }
  });

  it("OC-1: are linear in ln S between two rows (by hand)", () => {
    const { at } = reader();
    // √(5·10) lies halfway in ln S: (1.020 + 1.010)/2
    expect(at(Math.sqrt(50))!.factor.value).toBeCloseTo(1.015, 14);
    // 40 mm: ln 2/ln 5 = 0.4306766 of the way from 1.002 to 1.000: 1.002 − 0.002·0.4306766
    expect(at(40)!.factor.value).toBeCloseTo(1.001138647, 9);
  });

  it("OC-1: never swing beyond the rows that they lie between", () => {
    const { at } = reader();
    for (let S = 5; S <= 100; S += 0.37) {
      const above = TABLE.findIndex((row) => row.equivalent_square_mm > S);
      const { value } = at(S)!.factor;
      expect(value).toBeLessThanOrEqual(TABLE[above - 1]!.output_correction);
      expect(value).toBeGreaterThanOrEqual(TABLE[above]!.output_correction);
    }
  });

  it("OC-2: lean on the size with the slope of their line (by hand)", () => {
    const { at, u } = reader(without(0));
    // (1.010 − 1.020)/ln 2 = −0.01442695 per unit of ln S; over 8 mm −0.001803369 per mm; times 0.1 mm
    expect(u(at(8, "field", 0.1)!.factor)).toBeCloseTo(1.803369e-4, 9);
  });

  it("OC-2: at a row's own size the steeper side counts", () => {
    const { at, u } = reader(without(0));
    // 10 mm: −0.010/ln 2 = −0.0144270 below, −0.008/ln 2 = −0.0115416 above; 20 mm: −0.0115416 below, −0.002/ln 5 above
    expect(u(at(10, "field", 0.1)!.factor)).toBeCloseTo((0.014426950409 / 10) * 0.1, 10);
    expect(u(at(20, "field", 0.1)!.factor)).toBeCloseTo((0.011541560327 / 20) * 0.1, 10);
  });

  it("OC-3: the rows of a source err together, each by its own u: fields do not average it away", () => {
    const { at, u, lines } = reader();
    const [five, ten] = [at(5)!.factor, at(10)!.factor];
    expect(u(five) / five.value).toBeCloseTo(0.008, 12);
    expect(u(ten) / ten.value).toBeCloseTo(0.004, 12);
    // together 0.8 % + 0.4 %, where independent rows would give √(0.8² + 0.4²) %
    expect(u(five.times(ten)) / (1.02 * 1.01)).toBeCloseTo(0.012, 12);
    expect([...lines(five).keys()]).toContain("output-corrections/invented/error of the fields");
    expect([...lines(ten).keys()]).toEqual(
      expect.arrayContaining([...lines(five).keys()].filter((key) => key.startsWith("output-corrections/"))),
    );
  });

  it("OC-3: two sources err each by themselves", () => {
    const { at, u } = reader([{ ...TABLE[0]!, source: "another" }, ...TABLE.slice(1)]);
    expect(u(at(5)!.factor.times(at(10)!.factor)) / (1.02 * 1.01)).toBeCloseTo(Math.hypot(0.008, 0.004), 12);
  });

  it("OC-4: what the reference's row errs by does not cancel against the field's", () => {
    const { at, u } = reader(without(0.5));
    const ratio = at(10)!.factor.over(at(20, "reference")!.factor);
    expect(ratio.value).toBeCloseTo(1.01 / 1.002, 14);
    expect(u(ratio) / ratio.value).toBeCloseTo(0.005 * Math.SQRT2, 12);
  });

  it("OC-4: a reference whose factor is one by definition adds nothing", () => {
    const { at, u } = reader();
    const ratio = at(10)!.factor.over(at(100, "reference")!.factor);
    expect(u(ratio) / ratio.value).toBeCloseTo(0.004, 12);
  });

  it("OC-5: a size up to a tenth beyond an end has the end's factor, and what the last line would add as an uncertainty", () => {
    const { at, u, lines } = reader(without(0));
    const small = at(4.8, "field", 0.1)!;
    expect(small.factor.value).toBe(1.02);
    expect(small.beyond!.end_mm).toBe(5);
    // 0.010·ln(5/4.8)/ln 2 = 0.010·0.0408220/0.6931472
    expect(small.beyond!.u).toBeCloseTo(5.88937e-4, 8);
    // u(S) still counts, with the slope of the last line at 4.8 mm
    expect(u(small.factor)).toBeCloseTo(Math.hypot(5.88937e-4, (0.014426950409 / 4.8) * 0.1), 8);
    expect(lines(small.factor).get("output-factors/field-4.8/beyond-table")!.contribution).toBeCloseTo(5.88937e-4, 8);
    const wide = at(108)!;
    expect(wide.factor.value).toBe(1);
    expect(wide.beyond!.u).toBeCloseTo((0.002 * Math.log(1.08)) / Math.log(5), 12);
  });

  it("OC-5: farther out there is no factor, on either side", () => {
    const { at } = reader();
    expect(at(4.4)).toBeUndefined();
    expect(at(4.6)).toBeDefined();
    expect(at(109)).toBeDefined();
    expect(at(111, "reference")).toBeUndefined();
  });

  it("OC-5: a table of one row serves its own size alone", () => {
    const { at, u } = reader([TABLE[1]!]);
    expect(at(10)!.factor.value).toBe(1.01);
    expect(u(at(10, "field", 0, "again")!.factor)).toBeCloseTo(1.01 * 0.004, 12);
    expect(at(10.01)).toBeUndefined();
  });

  it("OC-2: under Monte Carlo the same line is drawn along: mean and spread are those of the budget", () => {
    const { model, at, u } = reader();
    const { factor } = at(10, "field", 0.2)!;
    const { results } = monteCarlo(model, [factor], { trials: 40_000, seed: 1 });
    const { mean, u: spread } = results[0]!;
    expect(mean).toBeCloseTo(factor.value, 4);
    expect(spread! / u(factor)).toBeCloseTo(1, 1);
  });
});
