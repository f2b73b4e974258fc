import { describe, expect, it } from "vitest";
import { atEstimates } from "./elementary-input.ts";
import type { Measured, Visit } from "./measured.ts";
import { netSignal, readingInputs, visitMeans } from "./net-signal.ts";
import { assumptions } from "./testing/typed-readings.ts";

const reading: Measured = {
  key: "separation/s1",
  duration_s: 20,
  temperature_C: 24,
  signals: [10.04, 5.02],
  factor: 1.25,
};
const dark = { mean: [0.002, 0.001], at: () => [0.002, 0.001] };
const assumed = assumptions({ temperatureCoefficient_perK: { value: -0.001, u: 0.0003 } });

describe("the net signal", () => {
  it("is (M − b·t)/(1 + α(T − T_ref)), and that times the factor for comparison", () => {
    const { raw, compared } = netSignal(reading, dark, assumed, atEstimates);
    expect(raw[0]).toBeCloseTo(10 / 0.998, 12);
    expect(raw[1]).toBeCloseTo(5 / 0.998, 12);
    expect(compared[1]).toBeCloseTo((1.25 * 5) / 0.998, 12);
  });

  it("needs no duration without a background, and a duration with one", () => {
    const { duration_s: _, ...short } = reading;
    expect(netSignal(short, undefined, assumed, atEstimates).raw[0]).toBeCloseTo(10.04 / 0.998, 12);
    expect(() => netSignal(short, dark, assumed, atEstimates)).toThrow("separation/s1: duration_s is missing");
  });

  it("without a temperature is not corrected, and leans on the room's through α", () => {
    const { temperature_C: _, ...cold } = reading;
    expect(netSignal(cold, dark, assumed, atEstimates).raw[0]).toBeCloseTo(10, 12);
    const warm = netSignal(cold, dark, assumed, (key) => (key === "separation/temperature" ? 1 : 0));
    expect(warm.raw[0]).toBeCloseTo(10 / 0.999, 12);
  });

  it("of a known dose is divided by that dose and by nothing else", () => {
    const dose = { Gy: 2, group: "g", shared_u: 0.01 };
    const known = { ...reading, dose };
    const { raw, compared } = netSignal(known, dark, assumed, atEstimates);
    expect(compared[0]).toBeCloseTo(raw[0]! / 2, 12);
    const own = netSignal(known, dark, assumed, (key) => (key === "dose/g" ? 0.05 : 0));
    expect(own.compared[0]).toBeCloseTo(raw[0]! / 2.1, 12);
    const shared = netSignal(known, dark, assumed, (key) => (key === "calibration/dose" ? 3 : 0));
    expect(shared.compared[0]).toBeCloseTo(raw[0]! / 2.06, 12);
  });
});

describe("a visit's means", () => {
  const visit: Visit = {
    key: "separation/short",
    condition: "short",
    readings: [reading, { ...reading, key: "separation/s2", signals: [12.04, 6.02], factor: 1 }],
  };

  it("are those of its readings, compared and raw", () => {
    const { raw, compared } = visitMeans(visit, dark, assumed, atEstimates);
    expect(raw[0]).toBeCloseTo(11 / 0.998, 12);
    expect(compared[0]).toBeCloseTo((12.5 + 12) / 2 / 0.998, 12);
  });

  it("are displaced by what the repeats leave, compared first", () => {
    const still = visitMeans(visit, dark, assumed, atEstimates);
    const compared = visitMeans(visit, dark, assumed, (key) => (key === "separation/short/repeats/1" ? 0.1 : 0));
    expect(compared.compared[1]! - still.compared[1]!).toBeCloseTo(0.1, 12);
    expect(compared.raw).toEqual(still.raw);
    const raw = visitMeans(visit, dark, assumed, (key) => (key === "separation/short/repeats/2" ? 0.1 : 0));
    expect(raw.raw[0]! - still.raw[0]!).toBeCloseTo(0.1, 12);
    expect(raw.compared).toEqual(still.compared);
  });

  it("hang on the last digit of every reading, and on the room where a temperature is wanting", () => {
    expect(readingInputs([visit], [1e-3, 1e-2], assumed).map(({ keys }) => keys[0])).toEqual([
      "separation/s1/digit/0",
      "separation/s1/digit/1",
      "separation/s2/digit/0",
      "separation/s2/digit/1",
    ]);
    const { temperature_C: _, ...cold } = reading;
    const inputs = readingInputs([{ ...visit, readings: [reading, cold] }], [1e-3, 1e-2], assumed);
    expect(inputs.at(-1)).toEqual({ keys: ["separation/temperature"], covariance: [[1]] });
  });
});
