import { describe, expect, it } from "vitest";
import { backgroundGroups, backgroundInputs, backgroundRates } from "./background-rate.ts";
import { atEstimates } from "./elementary-input.ts";
import { typedReading } from "./testing/typed-readings.ts";

const dark = (id: string, condition: string, signals: number[], time?: number, duration_s = 10) =>
  typedReading(id, { condition, signals, duration_s, ...(time !== undefined && { time }) });
const groupsOf = (...readings: ReturnType<typeof dark>[]) =>
  backgroundGroups({ resource: "background", file: "background.csv", readings, excluded: [] });

const timed = groupsOf(
  dark("b3", "after", [0.4, 0.2], 2000),
  dark("b1", "before", [0.1, 0.1], 90),
  dark("b2", "before", [0.3, 0.1], 110),
);

describe("background rates", () => {
  it("are M/t, averaged over all readings", () => {
    const { mean } = backgroundRates(timed, atEstimates)!;
    expect(mean[0]).toBeCloseTo(0.8 / 30, 15);
    expect(mean[1]).toBeCloseTo(0.4 / 30, 15);
  });

  it("run straight in time between groups, and stay outside them", () => {
    const rates = backgroundRates(timed, atEstimates)!;
    expect(rates.at(0)[0]).toBeCloseTo(0.02, 15);
    expect(rates.at(100)[0]).toBeCloseTo(0.02, 15);
    expect(rates.at(100 + 1900 / 4)[0]).toBeCloseTo(0.025, 15);
    expect(rates.at(100 + 1900 / 4)[1]).toBeCloseTo(0.0125, 15);
    expect(rates.at(9999)[0]).toBeCloseTo(0.04, 15);
  });

  it("are the mean where a time is wanting, here or there", () => {
    expect(backgroundRates(timed, atEstimates)!.at(undefined)[0]).toBeCloseTo(0.8 / 30, 15);
    const untimed = groupsOf(dark("b1", "before", [0.1, 0.1], 90), dark("b3", "after", [0.4, 0.2]));
    expect(backgroundRates(untimed, atEstimates)!.at(90)[0]).toBeCloseTo(0.025, 15);
  });

  it("are none without a series, and an error without a duration", () => {
    expect(backgroundRates(backgroundGroups(undefined), atEstimates)).toBeUndefined();
    expect(backgroundInputs([], 2)).toEqual([]);
    const groups = groupsOf(typedReading("b1", { signals: [0.1, 0.1] }));
    expect(() => backgroundRates(groups, atEstimates)).toThrow("background b1: duration_s is missing");
  });
});

describe("uncertainty of the background", () => {
  it("is the scatter pooled as it stands, and the last digit of each reading", () => {
    const blocks = backgroundInputs(timed, 2);
    const repeats = blocks.find(({ keys }) => keys[0] === "background/before/repeats/0")!;
    // Rates 0.01 and 0.03: variance 2e-4 on one degree of freedom, over two readings.
    expect(repeats.covariance[0]![0]).toBeCloseTo(1e-4, 15);
    expect(repeats.covariance[1]![1]).toBe(0);
    const digits = blocks.filter(({ keys }) => keys[0]!.includes("/digit/"));
    expect(digits).toHaveLength(6);
    expect(Math.sqrt(digits[0]!.covariance[0]![0]!)).toBeCloseTo(1e-3 / Math.sqrt(12), 15);
  });

  it("moves the rates by as much as its inputs", () => {
    const moved = backgroundRates(timed, (key) => (key === "background/before/repeats/0" ? 0.003 : 0))!;
    expect(moved.at(0)[0]).toBeCloseTo(0.023, 15);
    expect(moved.mean[0]).toBeCloseTo(0.8 / 30 + 0.002, 15);
    const shown = backgroundRates(timed, (key) => (key === "background/b3/digit/1" ? 0.1 : 0))!;
    expect(shown.at(9999)[1]).toBeCloseTo(0.03, 15);
  });
});
