import { covarianceOf, propagate } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addBackground } from "./background.ts";
import { chainOf, seriesOf } from "./testing/made-up-series.ts";

/** Three readings before and two after, of 60 s and 30 s; the signals are chosen so that the rates are easy. */
const SERIES = seriesOf("background", [
  ["before", [0.06, 0.012], { duration_s: 60, time: 1000 }],
  ["before", [0.12, 0.018], { duration_s: 60, time: 1100 }],
  ["before", [0.045, 0.0075], { duration_s: 30, time: 1200 }],
  ["after", [0.12, 0.009], { duration_s: 30, time: 5000 }],
  ["after", [0.06, 0.006], { duration_s: 30, time: 5100 }],
]);
// M/t: 0.001 0.002 0.0015 | 0.004 0.002 in blue; 0.0002 0.0003 0.00025 | 0.0003 0.0002 in green, nC/s

describe("the background", () => {
  it("NET-2: the rate of a group is the mean of M/t, not the mean of M over the mean of t", () => {
    const { groups } = addBackground(chainOf(), SERIES);
    expect(groups.map(({ name, count, time }) => [name, count, time])).toEqual([
      ["before", 3, 1100],
      ["after", 2, 5050],
    ]);
    const [before, after] = groups.map(({ rates }) => rates.map(({ value }) => value));
    expect(before![0]).toBeCloseTo(0.0015, 15); // (0.225 nC)/(150 s) would be the same by chance in blue …
    expect(before![1]).toBeCloseTo(0.00025, 15);
    expect(after![0]).toBeCloseTo(0.003, 15);
    expect(after![1]).toBeCloseTo(0.00025, 15);
    // … and is not where durations and rates go together
    const uneven = seriesOf("background", [
      ["dark", [0.1, 0], { duration_s: 100 }],
      ["dark", [0.03, 0], { duration_s: 10 }],
    ]);
    expect(addBackground(chainOf(), uneven).groups[0]!.rates[0]!.value).toBeCloseTo((0.001 + 0.003) / 2, 15);
  });

  it("NET-2: the rate of the whole series is the mean over all its readings, in signal unit per s", () => {
    const { rates } = addBackground(chainOf(), SERIES);
    expect(rates[0]!.value).toBeCloseTo((0.001 + 0.002 + 0.0015 + 0.004 + 0.002) / 5, 15);
    expect(rates[1]!.value).toBeCloseTo((0.0002 + 0.0003 + 0.00025 + 0.0003 + 0.0002) / 5, 15);
    expect(rates[0]!.unit.symbol).toBe("nC/s");
    expect(rates[0]!.tape.names.get(rates[0]!.index)?.key).toBe("background.blue");
  });

  it("TYPEA-3: its type A is the absolute covariance of M/t, pooled over the groups", () => {
    const chain = chainOf();
    const { groups, dof } = addBackground(chain, SERIES);
    expect(dof).toBe(3);
    // deviations in 1e-3 nC/s: blue −0.5 0.5 0 | 1 −1, green −0.05 0.05 0 | 0.05 −0.05
    const [blue, green, both] = [(0.5 + 2) / 3, (0.005 + 0.005) / 3, (0.05 + 0.1) / 3];
    const display = 1e-6 / Math.sqrt(12);
    const covariance = covarianceOf(chain.model, groups[0]!.rates);
    // the display of a reading of 30 or 60 s: its mean gain 1/t enters alike for all readings of the condition
    const gain = (1 / 60 + 1 / 60 + 1 / 30) / 3;
    expect(covariance[0]).toBeCloseTo((blue * 1e-6) / 3 + (display * display * gain * gain) / 3, 18);
    expect(covariance[3]).toBeCloseTo((green * 1e-6) / 3 + (display * display * gain * gain) / 3, 18);
    expect(covariance[1]).toBeCloseTo((both * 1e-6) / 3, 18);
    const after = covarianceOf(chain.model, groups[1]!.rates);
    expect(after[1]).toBeCloseTo((both * 1e-6) / 2, 18);
  });

  it("TYPEA-5: a single reading has an unknown scatter, and the rate its value", () => {
    const chain = chainOf();
    const { rates, dof } = addBackground(chain, seriesOf("background", [["dark", [0.03, 0.01], { duration_s: 10 }]]));
    expect(dof).toBeUndefined();
    const { value, u, typeAUnknown, U } = propagate(chain.model, rates[0]!);
    expect(value).toBeCloseTo(0.003, 15);
    expect(typeAUnknown).toBe(true);
    expect(U).toBeNaN();
    expect(u).toBeCloseTo(1e-6 / Math.sqrt(12) / 10, 15);
  });

  it("NET-3: groups stand in the order of time, whatever their order in the table", () => {
    const { groups } = addBackground(chainOf(), { ...SERIES, readings: [...SERIES.readings].reverse() });
    expect(groups.map(({ name }) => name)).toEqual(["before", "after"]);
  });

  it("NET-3: where one reading has no time they stand as they come", () => {
    const readings = [...SERIES.readings].reverse().map(({ time: _, ...reading }) => reading);
    const { groups } = addBackground(chainOf(), { name: "background", readings });
    expect(groups.map(({ name, time }) => [name, time])).toEqual([
      ["after", undefined],
      ["before", undefined],
    ]);
  });

  it("NET-9: a reading that is left out changes nothing, whatever it holds", () => {
    const more = seriesOf("background", [
      ["before", [Number.NaN, 7], { exclude: "light on", time: 1 }],
      ["elsewhere", [1, 1], { exclude: "another reader", duration_s: 5, time: 99_999 }],
    ]);
    const spoilt = { name: "background", readings: [...SERIES.readings, ...more.readings] };
    const [clean, dirty] = [SERIES, spoilt].map((series) => {
      const chain = chainOf();
      const { rates, groups } = addBackground(chain, series);
      return [
        ...rates.map((rate) => [rate.value, propagate(chain.model, rate).u]),
        ...groups.map(({ name, count, time }) => [name, count, time]),
      ];
    });
    expect(dirty).toEqual(clean);
  });

  it("TYPEA-4: one flicker of the last digit among groups that show none is nothing wild", () => {
    const shown = (digit: number) => {
      const dark = (condition: string, signals: number[]) =>
        signals.map((signal) => [condition, [signal, 0.01], { duration_s: 10, digits: [digit, digit] }] as const);
      const still = [0.1, 0.1, 0.1, 0.1];
      const series = [...dark("one", still), ...dark("two", still), ...dark("three", [0.1, 0.1, 0.1, 0.101])];
      return addBackground(chainOf(), seriesOf("background", series)).wild.length;
    };
    expect(shown(0.001)).toBe(0);
    expect(shown(0.0001)).toBe(1); // ten digits at once are no flicker
  });

  it("TYPEA-4: a group that scatters beyond chance is named", () => {
    const dark = (condition: string, signals: number[]) =>
      signals.map((signal) => [condition, [signal, 0.01], { duration_s: 10 }] as const);
    const series = seriesOf("background", [
      ...dark("one", [0.1, 0.101, 0.099, 0.1]),
      ...dark("two", [0.1, 0.099, 0.101, 0.1]),
      ...dark("three", [0.1, 0.15, 0.05, 0.11]),
    ]);
    expect(addBackground(chainOf(), series).wild.map(({ condition }) => condition)).toEqual(["three"]);
  });
});
