import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { evaluate } from "../evaluate.ts";
import { madeUpCampaign } from "../testing/made-up-campaign.ts";
import { ENOUGH, enough, runningStatistics } from "./running-statistics.ts";
import { type Visit, type VisitReading, visitsOf } from "./visits.ts";

const reading = (corrected: number, more: Partial<VisitReading> = {}, k = 0): VisitReading => ({
  id: `r${k}`,
  row: k,
  signals: [2 * corrected, corrected],
  digits: [1e-4, 1e-4],
  corrected,
  ...more,
});

const visitOf = (values: readonly number[], more: Partial<Visit> = {}): Visit => ({
  series: "output-factors",
  condition: "10x10",
  readings: values.map((value, k) => reading(value, {}, k)),
  ...more,
});

describe("mean and scatter so far", () => {
  // JCGM 100:2008, 4.4.3, table 1: 20 readings of a temperature, mean 100.145 (100.14 there), s 1.489, s/√20 = 0.333
  const GUM = [
    96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95, 101.11, 101.2,
    101.57, 101.84, 102.36, 102.72,
  ];

  test("are those of the example of the GUM (JCGM 100:2008, 4.4.3)", () => {
    const visit = visitOf(GUM);
    const [light] = runningStatistics([visit], visit);
    expect(light!.count).toBe(20);
    expect(light!.mean).toBeCloseTo(100.145, 3);
    expect(light!.sd).toBeCloseTo(1.489, 3);
    expect(light!.u).toBeCloseTo(0.333, 3);
    expect(light!.dof).toBe(19);
  });

  test("are of the corrected light where every reading has it, else of each channel", () => {
    const visit = visitOf([1, 2]);
    expect(runningStatistics([visit], visit).map(({ of, mean }) => [of, mean])).toEqual([["corrected", 1.5]]);
    const { corrected: _, ...without } = reading(3);
    const mixed = { ...visit, readings: [...visit.readings, without] };
    expect(runningStatistics([mixed], mixed).map(({ of, mean }) => [of, mean])).toEqual([
      [0, 4],
      [1, 2],
    ]);
  });

  test("leave out what is left out", () => {
    const visit = visitOf([1, 2]);
    const more = { ...visit, readings: [...visit.readings, reading(50, { exclude: "beam stopped" })] };
    expect(runningStatistics([more], more)[0]).toMatchObject({ count: 2, mean: 1.5 });
  });

  test("have no scatter to tell from a single reading, and are none of none", () => {
    const one = visitOf([1]);
    expect(runningStatistics([one], one)).toEqual([{ of: "corrected", count: 1, mean: 1, dof: 0 }]);
    const none = visitOf([]);
    expect(runningStatistics([none], none)).toEqual([]);
  });

  test("take the scatter of all visits of the series together, in relation: (2·0.01² + 1·0.02²)/3 of hand-made ones", () => {
    const wide = visitOf([0.99, 1, 1.01]);
    const narrow = visitOf([10 - 0.2 / Math.SQRT2, 10 + 0.2 / Math.SQRT2], { condition: "20x20" });
    const elsewhere = visitOf([1, 5], { series: "separation" });
    const [light] = runningStatistics([wide, narrow, elsewhere], narrow);
    expect(light!.dof).toBe(3);
    expect(light!.sd).toBeCloseTo(0.2, 12);
    expect(light!.u).toBeCloseTo((10 * Math.sqrt((2 * 0.0001 + 0.0004) / 3)) / Math.SQRT2, 12);
  });

  test("do not let a reading that does not fit widen the scatter of other visits, only that of its own", () => {
    const clean = [visitOf([1, 1.001, 0.999]), visitOf([2, 2.002, 1.998], { condition: "20x20" })];
    const spoilt = visitOf([3, 3.003, 2.4], { condition: "30x30" });
    const visits = [...clean, spoilt];
    expect(runningStatistics(visits, clean[0]!)[0]).toEqual(runningStatistics(clean, clean[0]!)[0]);
    const [own] = runningStatistics(visits, spoilt);
    expect(own!.dof).toBe(6);
    expect(own!.u! / own!.mean).toBeGreaterThan(0.03);
  });

  test("take the scatter of the background as it is: a rate near zero has no percentage", () => {
    const dark = (values: number[]) =>
      visitOf(values, {
        series: "background",
        readings: values.map((value, k) => ({ id: `b${k}`, row: k, signals: [value, value], digits: [0, 0] })),
      });
    const own = dark([0.01, -0.01]);
    const [first] = runningStatistics([own, dark([5, 5.02])], own);
    expect(first!.mean).toBeCloseTo(0, 15);
    expect(first!.u).toBeCloseTo(0.02 / Math.SQRT2 / Math.SQRT2, 12);
  });

  test("of equal readings are those readings, without scatter", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), fc.integer({ min: 2, max: 9 }), (value, n) => {
        const visit = visitOf(Array.from({ length: n }, () => value));
        expect(runningStatistics([visit], visit)[0]).toEqual({
          ...{ of: "corrected", count: n, mean: value, sd: 0, u: 0, dof: n - 1 },
        });
      }),
    );
  });

  test("of a campaign are its means: that of the corrected light is the quantity that the evaluation reports", () => {
    const campaign = madeUpCampaign();
    const evaluation = evaluate(campaign);
    const visits = visitsOf(campaign, evaluation);
    const field = visits.find(({ condition }) => condition === "10x10")!;
    const [light] = runningStatistics(visits, field);
    const net = evaluation.evaluated!.outputFactors!.net.conditions.find(({ name }) => name === "10x10")!;
    const ratio = evaluation.evaluated!.weights!.stemRatio!.value;
    // the mean of a linear formula is the formula of the means
    expect(light!.mean).toBeCloseTo(net.normalised[0]!.value - ratio * net.normalised[1]!.value, 12);
  });
});

describe("enough", () => {
  const judge = (values: readonly number[], more: Partial<Visit> = {}) => {
    const visit = visitOf(values, more);
    return enough(visit, runningStatistics([visit], visit));
  };

  test("are three readings whose mean is known to 0.1 %", () => {
    expect(judge([1, 1.001, 0.999])).toEqual({ enough: true, more: 0 });
  });

  test("are not two, however well they agree", () => {
    expect(judge([1, 1.0001])).toEqual({ enough: false, more: 1 });
  });

  test("says how many more it will take by the scatter so far: s = 0.3 % needs nine in all", () => {
    // s of 1 − d, 1, 1 + d is d; n = (0.3 %/0.1 %)²
    expect(judge([0.997, 1, 1.003])).toEqual({ enough: false, more: 6 });
  });

  test("does not know after a single reading where nothing else was repeated", () => {
    expect(judge([1])).toEqual({ enough: false });
    expect(judge([])).toEqual({ enough: false });
  });

  test("goes by the other visits' scatter where there are some: two more of this one", () => {
    const visit = visitOf([1]);
    const other = visitOf([1, 1.001, 0.999], { condition: "20x20" });
    expect(enough(visit, runningStatistics([visit, other], visit))).toEqual({ enough: false, more: 2 });
  });

  test("are five with the beam off, whatever they scatter by", () => {
    const dark = (n: number) =>
      judge(
        Array.from({ length: n }, (_, k) => k - 2),
        { series: "background" },
      );
    expect(dark(4)).toEqual({ enough: false, more: 1 });
    expect(dark(5)).toEqual({ enough: true, more: 0 });
    expect(dark(6)).toEqual({ enough: true, more: 0 });
  });

  test("is not said of a mean of nothing", () => {
    expect(judge([-1, 1, 0])).toEqual({ enough: false });
  });

  test("has a criterion that adds a fiftieth to an output correction's 0.5 %, as its description says", () => {
    expect(Math.hypot(0.005, ENOUGH.relative) / 0.005).toBeCloseTo(1.02, 2);
  });
});
