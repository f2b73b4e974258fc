import { Model, normalisedError, ONE, propagate } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { startChain } from "./chain.ts";
import { MILLIMETRE } from "./length-unit.ts";
import { compareWithSets, type MeasuredOutput, type SetValue } from "./published-set.ts";

/** A smooth curve of output factors, of the form of Sauer and Wilbert, Med. Phys. 34, 1983 (2007); invented parameters. */
const curve = (S: number) => (0.9 * S ** 1.2) / (5 ** 1.2 + S ** 1.2) + 0.1 * (1 - Math.exp(-0.02 * S));

function laboratory(sizes: readonly number[], u = { size: 0.1, output: 0.003 }) {
  const model = new Model();
  const chain = startChain(model, {
    channels: ["blue", "green"],
    signalUnit: "nC",
    temperatureCoefficient_perK: { value: -0.001, u: 0 },
    referenceTemperature_C: 22,
    temperature_u_C: 1,
  });
  const measured = sizes.map((S, i): MeasuredOutput => {
    const estimate = (key: string, value: number, own: number, unit = ONE) =>
      model.estimate({ key: `${key}-${i}`, symbol: key, label: key, type: "B", unit, value, u: own });
    return {
      condition: `f${S}`,
      outputFactor: estimate("output", curve(S), u.output),
      equivalentSquare: estimate("size", S, u.size, MILLIMETRE),
    };
  });
  return { chain, model, measured };
}

const bySize = (sizes: readonly number[], factor = 1, u_percent = 0.5): SetValue[] =>
  sizes.map((S) => ({ equivalent_square_mm: S, output_factor: factor * curve(S), u_percent, source: "plan" }));

const TABLE = [4, 5, 6, 8, 10, 15, 20, 30, 40, 60, 100];

describe("comparison with output factors from elsewhere", () => {
  it("SET-1: between the sizes of a usual table a smooth curve is met to 0.1 %", () => {
    const { chain, measured } = laboratory([4.5, 7, 9, 12.5, 25, 50, 80]);
    const { compared, outside } = compareWithSets(chain, bySize(TABLE), measured);
    expect(outside).toEqual([]);
    for (const { difference } of compared) expect(Math.abs(difference.value)).toBeLessThan(1e-3);
  });

  it("SET-1: at the sizes of the table its own values are met to rounding, and a factor shows as it is", () => {
    const { chain, measured } = laboratory([5, 10, 100]);
    const { compared } = compareWithSets(chain, bySize(TABLE, 1 / 1.02), measured);
    for (const { difference, from } of compared) {
      expect(difference.value).toBeCloseTo(0.02, 12);
      expect(from).toBe("equivalent square");
    }
  });

  it("SET-2: the slope of the curve times the uncertainty of the size is in the budget", () => {
    const { chain, model, measured } = laboratory([6], { size: 0.2, output: 0 });
    const { compared } = compareWithSets(chain, bySize(TABLE, 1, 0), measured);
    const h = 1e-4;
    const slope = (curve(6 + h) - curve(6 - h)) / (2 * h);
    expect(propagate(model, compared[0]!.difference).u).toBeCloseTo((slope / curve(6)) * 0.2, 3);
  });

  it("SET-2: a value by condition leans on the size with the slope of the measured curve", () => {
    const { chain, model, measured } = laboratory([5, 6, 8], { size: 0.2, output: 0 });
    const set: SetValue[] = [{ condition: "f6", output_factor: curve(6), u_percent: 0, source: "film" }];
    const { compared } = compareWithSets(chain, set, measured);
    expect(compared).toHaveLength(1);
    expect(compared[0]!.difference.value).toBeCloseTo(0, 14);
    const slope = (curve(8) - curve(5)) / 3;
    expect(propagate(model, compared[0]!.difference).u).toBeCloseTo((slope / curve(6)) * 0.2, 10);
  });

  it("SET-3: difference over its expanded uncertainty is E_n (ISO 13528)", () => {
    const { chain, model, measured } = laboratory([10], { size: 0, output: 0.004 });
    const { compared } = compareWithSets(chain, bySize([10, 12], 1 / 1.01, 1), measured);
    const { value, U } = propagate(model, compared[0]!.difference);
    const theirs = curve(10) / 1.01;
    const k = 1.959963984540054;
    const { en } = normalisedError(curve(10), k * 0.004, theirs, k * 0.01 * theirs);
    // the quotient less one and the difference agree but for the second order in a difference of 1 %
    expect(Math.abs(value / U / en - 1)).toBeLessThan(0.01);
  });

  it("SET-4: nothing is extrapolated, and what lies outside is said", () => {
    const { chain, measured } = laboratory([3, 10, 120]);
    const { compared, outside } = compareWithSets(chain, bySize(TABLE), measured);
    expect(compared.map(({ condition }) => condition)).toEqual(["f10"]);
    expect(outside).toEqual([
      { source: "plan", condition: "f3" },
      { source: "plan", condition: "f120" },
    ]);
  });

  it("SET-4: sources are kept apart, and a set by condition is silent on the others", () => {
    const { chain, measured } = laboratory([5, 10]);
    const film: SetValue[] = [{ condition: "f5", output_factor: 0.5, u_percent: 2, source: "film" }];
    const { compared, outside } = compareWithSets(chain, [...bySize(TABLE), ...film], measured);
    expect(compared.map(({ source, condition }) => `${source} ${condition}`)).toEqual([
      "plan f5",
      "plan f10",
      "film f5",
    ]);
    expect(outside).toEqual([]);
  });
});
