import { budget, covarianceOf, propagate, type Scalar } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addBackground } from "./background.ts";
import type { Chain } from "./chain.ts";
import { addNetSignals, type Divisor, type NetSeries, type Normalisation } from "./net-signal.ts";
import { conditionsOf, type Reading, type Series } from "./readings.ts";
import { chainOf, exactChain, type Row, seriesOf } from "./testing/made-up-series.ts";

const NONE: Normalisation = { divisor: () => "none" };

function net(chain: Chain, series: Series, normalisation: Normalisation = NONE): NetSeries {
  return addNetSignals(chain, series, conditionsOf(series), normalisation);
}

/** A chain with the rates 0.001 and 0.0002 nC/s at time 1000, and 0.003 and 0.0004 at time 5000. */
function withBackground(chain: Chain = exactChain()): Chain {
  const dark = (condition: string, time: number, blue: number, green: number) =>
    [-1, 0, 1].map(
      (d) =>
        [condition, [10 * blue + d * 1e-4, 10 * green - d * 1e-4], { duration_s: 10, time: time + 10 * d }] as const,
    );
  const series = seriesOf("background", [
    ...dark("before", 1000, 0.001, 0.0002),
    ...dark("after", 5000, 0.003, 0.0004),
  ]);
  return { ...chain, background: addBackground(chain, series) };
}

const values = (nodes: readonly Scalar[]) => nodes.map(({ value }) => value);
const inputsOf = (chain: Chain, node: Scalar) => budget(propagate(chain.model, node)).map(({ input }) => input);

describe("the net signal", () => {
  it("NET-1: of readings without background at the reference temperature it is their mean", () => {
    const { conditions } = net(
      exactChain(),
      seriesOf("calibration", [
        ["a", [6.5, 3.5], { temperature_C: 22 }],
        ["a", [6.7, 3.3], { temperature_C: 22 }],
      ]),
    );
    expect(values(conditions[0]!.plain)[0]).toBeCloseTo(6.6, 14);
    expect(values(conditions[0]!.plain)[1]).toBeCloseTo(3.4, 14);
    expect(conditions[0]).toMatchObject({ name: "a", condition: "a", rows: [0, 1], count: 2, divisor: "none" });
    expect(conditions[0]!.plain[0]!.unit.symbol).toBe("nC");
    expect(conditions[0]!.normalised).toBe(conditions[0]!.plain);
  });

  it("NET-1: the temperature's correction is 1/(1 + α(T − T_ref)), the same for all channels, exactly", () => {
    const rows: Row[] = [
      ["a", [6.5, 3.5], { temperature_C: 26 }],
      ["a", [6.5, 3.5], { temperature_C: 18 }],
    ];
    const chain = chainOf({ temperatureCoefficient_perK: { value: -0.005, u: 0.001 } });
    const { plain } = net(chain, seriesOf("calibration", rows)).conditions[0]!;
    const gain = (1 / (1 - 0.005 * 4) + 1 / (1 + 0.005 * 4)) / 2;
    expect(values(plain)[0]).toBeCloseTo(6.5 * gain, 14);
    expect(values(plain)[1]).toBeCloseTo(3.5 * gain, 14);
    // ∂(mean)/∂α = −q·mean of (T − T_ref)·gain²
    const line = budget(propagate(chain.model, plain[0]!)).find(({ input }) => input === "temperature-coefficient")!;
    expect(line.sensitivity).toBeCloseTo(-6.5 * ((4 / 0.98 / 0.98 - 4 / 1.02 / 1.02) / 2), 12);
  });

  it("NET-1: the background is rate times integration time, before the temperature's correction", () => {
    const chain = withBackground(chainOf({ temperatureCoefficient_perK: { value: -0.002, u: 0 } }));
    const series = seriesOf("calibration", [["a", [6.5, 3.5], { duration_s: 20, time: 3000, temperature_C: 32 }]]);
    const { plain } = net(chain, series).conditions[0]!;
    // halfway between the groups: 0.002 and 0.0003 nC/s over 20 s
    expect(values(plain)[0]).toBeCloseTo((6.5 - 0.002 * 20) / 0.98, 13);
    expect(values(plain)[1]).toBeCloseTo((3.5 - 0.0003 * 20) / 0.98, 13);
  });

  it("NET-3: each reading takes the background of its own time", () => {
    const series = seriesOf("calibration", [
      ["a", [6.5, 3.5], { duration_s: 20, time: 2000 }],
      ["b", [6.5, 3.5], { duration_s: 40, time: 4000 }],
      ["c", [6.5, 3.5], { duration_s: 20, time: 0 }],
      ["d", [6.5, 3.5], { duration_s: 20, time: 9000 }],
      ["e", [6.5, 3.5], { duration_s: 20, time: 2000 }],
      ["e", [6.5, 3.5], { duration_s: 20, time: 4000 }],
    ]);
    const blue = net(withBackground(), series).conditions.map(({ plain }) => plain[0]!.value);
    expect(blue[0]).toBeCloseTo(6.5 - 0.0015 * 20, 13);
    expect(blue[1]).toBeCloseTo(6.5 - 0.0025 * 40, 13);
    expect(blue[2]).toBeCloseTo(6.5 - 0.001 * 20, 13);
    expect(blue[3]).toBeCloseTo(6.5 - 0.003 * 20, 13);
    expect(blue[4]).toBeCloseTo(6.5 - 0.002 * 20, 13);
  });

  it("NET-3: readings without a time take the mean of the groups by their numbers of readings", () => {
    const series = seriesOf("calibration", [["a", [6.5, 3.5], { duration_s: 20 }]]);
    expect(net(withBackground(), series).conditions[0]!.plain[0]!.value).toBeCloseTo(6.5 - 0.002 * 20, 13);
  });

  it("NET-4: the background is one input for all readings that it is taken from, so that they move together", () => {
    const chain = withBackground();
    const series = seriesOf("calibration", [
      ["a", [6.5, 3.5], { duration_s: 20, time: 500 }],
      ["b", [3.2, 1.2], { duration_s: 40, time: 700 }],
    ]);
    const [a, b] = net(chain, series).conditions;
    const before = chain.background!.groups[0]!.rates;
    const rate = covarianceOf(chain.model, before);
    const covariance = covarianceOf(chain.model, [a!.plain[0]!, b!.plain[0]!, b!.plain[1]!]);
    expect(covariance[1]).toBeCloseTo(20 * 40 * rate[0]!, 18);
    expect(covariance[2]).toBeCloseTo(20 * 40 * rate[1]!, 18); // its channels' correlation is passed on as well
    expect(Math.abs(covariance[1]! / (800 * rate[0]!) - 1)).toBeLessThan(1e-9);
  });

  const temperatures = (...list: (number | undefined)[]) =>
    seriesOf(
      "calibration",
      list.map((temperature_C, i) => [`c${i}`, [6.5, 3.5], temperature_C === undefined ? {} : { temperature_C }]),
    );

  it("NET-5: without any temperature nothing is corrected, and one input spreads all readings of the series alike", () => {
    const chain = chainOf({ temperatureCoefficient_perK: { value: -0.004, u: 0 }, temperature_u_C: 1.5 });
    const [a, b] = net(chain, temperatures(undefined, undefined)).conditions;
    expect(a!.plain[0]!.value).toBe(6.5);
    expect(inputsOf(chain, a!.plain[0]!)).toContain("calibration/temperature");
    const line = budget(propagate(chain.model, a!.plain[0]!)).find(({ input }) => input === "calibration/temperature")!;
    expect(line.contribution).toBeCloseTo(6.5 * 0.004 * 1.5, 12);
    // a ratio of two readings of the series does not see it
    expect(inputsOf(chain, a!.plain[0]!.over(b!.plain[0]!))).not.toContain("calibration/temperature");
  });

  it("NET-5: with all temperatures read there is no such input", () => {
    const chain = chainOf();
    const { conditions } = net(chain, temperatures(22.5, 21));
    expect(inputsOf(chain, conditions[0]!.plain[0]!)).toContain("temperature-coefficient");
    expect(chain.model.tape.find("calibration/temperature")).toBeUndefined();
  });

  it("NET-5: with some read, the others take the room's, and they alone", () => {
    const chain = chainOf({ temperatureCoefficient_perK: { value: -0.004, u: 0 } });
    const [read, not] = net(chain, temperatures(26, undefined)).conditions;
    expect(read!.plain[0]!.value).toBeCloseTo(6.5 / (1 - 0.016), 14);
    expect(not!.plain[0]!.value).toBe(6.5);
    expect(inputsOf(chain, read!.plain[0]!)).not.toContain("calibration/temperature");
    expect(inputsOf(chain, not!.plain[0]!)).toContain("calibration/temperature");
  });

  it("NET-5: a temperature read for a reading that is left out does not count as read", () => {
    const chain = chainOf();
    const series = temperatures(undefined, 30);
    const left = { ...series.readings[1]!, condition: "c0", exclude: "door open" };
    const { conditions } = net(chain, { ...series, readings: [series.readings[0]!, left] });
    expect(conditions[0]!.plain[0]!.value).toBe(6.5);
    expect(inputsOf(chain, conditions[0]!.plain[0]!)).toContain("calibration/temperature");
  });
});

describe("normalisation", () => {
  const rows: Row[] = [
    ["a", [6, 3], { monitor: 9, mu: 100 }],
    ["a", [6.6, 3.3], { monitor: 11, mu: 100 }],
    ["b", [20, 16], { monitor: 10, mu: 200 }],
  ];
  const by = (divisor: Divisor, chain = exactChain()) =>
    net(chain, seriesOf("output-factors", rows), { divisor: () => divisor }).conditions;

  it("NET-7: each reading is divided by its monitor over the mean monitor of the series", () => {
    const [a, b] = by("monitor");
    expect(a!.normalised[0]!.value).toBeCloseTo((6 * (10 / 9) + 6.6 * (10 / 11)) / 2, 13);
    expect(b!.normalised[0]!.value).toBeCloseTo(20, 13);
    expect(a!.normalised[0]!.unit.symbol).toBe("nC");
  });

  it("NET-7: or by its monitor units over their mean", () => {
    const [a, b] = by("mu");
    const mean = 400 / 3;
    expect(a!.normalised[0]!.value).toBeCloseTo((6.3 * mean) / 100, 12);
    expect(b!.normalised[0]!.value).toBeCloseTo((20 * mean) / 200, 12);
  });

  it("NET-7: beside it stands the signal as it is", () => {
    for (const divisor of ["monitor", "mu", "none"] as const) {
      const [a, b] = by(divisor);
      expect(a!.plain[0]!.value).toBeCloseTo(6.3, 14);
      expect(b!.plain[1]!.value).toBeCloseTo(16, 14);
    }
  });

  it("NET-7: the mean that it is scaled by has no uncertainty: no input but those of the signals appears", () => {
    const chain = exactChain();
    const [a] = by("monitor", chain);
    const kinds = new Set(inputsOf(chain, a!.normalised[0]!).map((input) => input.split("/").slice(1, 3).join("/")));
    expect(kinds).toEqual(new Set(["a/resolution", "a/repeats"]));
    expect(propagate(chain.model, chain.model.tape.find("output-factors/mean-monitor")!).u).toBe(0);
  });

  it("NET-7: what is common to signal and monitor drops out of the scatter of the normalised signal", () => {
    const chain = exactChain();
    const common = [0.99, 1, 1.01, 1.003].map(
      (output): Row => ["a", [6 * output, 3 * output], { monitor: 10 * output }],
    );
    const series = seriesOf("output-factors", common);
    const { normalised, plain } = net(chain, series, { divisor: () => "monitor" }).conditions[0]!;
    const [own, raw] = [normalised[0]!, plain[0]!].map((node) => propagate(chain.model, node).u);
    expect(own).toBeLessThan(2e-7); // the display's digit of 1e-6 is left
    expect(raw).toBeGreaterThan(0.02);
  });

  it("NET-7: the mean of the divisor is over the readings that count", () => {
    const left: Row[] = [...rows, ["a", [1, 1], { monitor: 1000, mu: 5, exclude: "range" }]];
    const { conditions } = net(exactChain(), seriesOf("output-factors", left), { divisor: () => "monitor" });
    expect(conditions[1]!.normalised[0]!.value).toBeCloseTo(20, 13);
  });

  it("NET-8: a reading whose dose is known is divided by its own dose and by nothing else", () => {
    const doses = [1, 1.02, 2];
    const { conditions } = net(exactChain(), seriesOf("calibration", rows), {
      divisor: () => "dose",
      dose_Gy: (_, row) => doses[row],
    });
    expect(conditions[0]!.normalised[0]!.value).toBeCloseTo((6 / 1 + 6.6 / 1.02) / 2, 13);
    expect(conditions[1]!.normalised[1]!.value).toBeCloseTo(8, 13);
    expect(conditions[0]!.normalised[0]!.unit.symbol).toBe("nC/Gy");
    expect(conditions[0]!.plain[0]!.value).toBeCloseTo(6.3, 14);
  });

  it("NET-8: in one series some conditions may be divided by dose and others by the monitor", () => {
    const { conditions } = net(exactChain(), seriesOf("separation", rows), {
      divisor: ({ name }) => (name === "a" ? "dose" : "monitor"),
      dose_Gy: () => 2,
    });
    expect(conditions.map(({ normalised, divisor }) => [divisor, normalised[0]!.unit.symbol])).toEqual([
      ["dose", "nC/Gy"],
      ["monitor", "nC"],
    ]);
    expect(conditions[0]!.normalised[0]!.value).toBeCloseTo(3.15, 13);
    expect(conditions[1]!.normalised[0]!.value).toBeCloseTo(20, 13);
  });

  it("NET-8: to divide by dose without any dose is a mistake of the caller's", () => {
    expect(() => by("dose")).toThrow("there is no dose");
  });

  it("TYPEA-1: the weights hold pooled type A and the display's digit, as the normalised signal has them", () => {
    const chain = exactChain();
    const series = seriesOf(
      "separation",
      [1, 1.01, 0.99].map((f) => ["a", [6 * f, 3 * f], { monitor: 2, digits: [0.01, 0.02] }] as const),
    );
    const [condition] = net(chain, series, { divisor: () => "monitor" }).conditions;
    // pooled relative variance 0.0001, over three readings; the digits are not scaled by a monitor that is constant
    expect(condition!.weightCovariance[0]).toBeCloseTo((36 * 1e-4 + (0.01 * 0.01) / 12) / 3, 12);
    expect(condition!.weightCovariance[3]).toBeCloseTo((9 * 1e-4 + (0.02 * 0.02) / 12) / 3, 12);
    expect(condition!.weightCovariance[1]).toBeCloseTo((18 * 1e-4) / 3, 12);
    expect(condition!.weightCovariance[2]).toBe(condition!.weightCovariance[1]);
    const model = covarianceOf(chain.model, condition!.normalised);
    expect(condition!.weightCovariance[0]).toBeCloseTo(model[0]!, 14);
  });
});

describe("a reading that is left out", () => {
  const good: Row[] = [
    ["a", [6.5, 3.5], { duration_s: 20, time: 1500, mu: 100, temperature_C: 21 }],
    ["a", [6.6, 3.6], { duration_s: 20, time: 1600, mu: 100, temperature_C: 23 }],
    ["b", [3.2, 1.2], { duration_s: 20, time: 1700, mu: 100, temperature_C: 23 }],
  ];
  const everything = (rows: readonly Row[]) => {
    const chain = withBackground(chainOf());
    const { conditions, dof, wild } = net(chain, seriesOf("output-factors", rows), { divisor: () => "mu" });
    return conditions.map(({ name, count, time, normalised, plain, weightCovariance }) => [
      ...[name, count, time, dof, wild],
      ...[...normalised, ...plain].map((node) => {
        const { value, u, dof: own } = propagate(chain.model, node);
        return [value, u, own];
      }),
      [...weightCovariance],
    ]);
  };

  it("NET-9: changes no number, uncertainty or weight, whatever is in its cells", () => {
    const expected = everything(good);
    const cell = fc.option(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { nil: undefined });
    const left = fc.record({ blue: cell, green: cell, duration_s: cell, time: cell, mu: cell, temperature_C: cell });
    fc.assert(
      fc.property(
        left,
        fc.nat(3),
        fc.constantFrom("a", "b", "elsewhere"),
        ({ blue, green, ...more }, place, condition) => {
          const row = [condition, [blue, green], { ...more, exclude: "a reason" }] as unknown as Row;
          expect(everything([...good.slice(0, place), row, ...good.slice(place)])).toEqual(expected);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("NET-9: stays in its place all the same, with a weight of zero", () => {
    const chain = exactChain();
    const series = seriesOf("s", [...good.slice(0, 1), ["a", [1, 1], { exclude: "door open" }], ...good.slice(1)]);
    const { conditions } = net(chain, series);
    expect(conditions[0]).toMatchObject({ rows: [0, 1, 2], count: 2 });
    const included = chain.model.columns.find(({ name }) => name === "included")!;
    expect([...Array.from(included.values)]).toEqual([1, 0, 1, 1]);
    expect(included.readings).toEqual(["r1", "r2", "r3", "r4"]);
  });
});

describe("the columns of a series", () => {
  it("NET-9: what was read stands in the model, and what follows from another series says from which", () => {
    const chain = withBackground();
    net(chain, seriesOf("calibration", [["a", [6.5, 3.5], { duration_s: 20, time: 2000 }]] as readonly Row<Reading>[]));
    const own = chain.model.columns.filter(({ series }) => series === "calibration");
    expect(own.map(({ name, derivedFrom }) => [name, derivedFrom])).toEqual([
      ["included", undefined],
      ["time", undefined],
      ["signal_blue", undefined],
      ["signal_green", undefined],
      ["duration_s", undefined],
      ["weight of before", "background"],
      ["weight of after", "background"],
    ]);
  });
});
