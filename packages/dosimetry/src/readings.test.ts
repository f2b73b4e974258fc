import { describe, expect, it } from "vitest";
import { conditionsOf, counting, lastDigit, meanTime } from "./readings.ts";
import { seriesOf } from "./testing/made-up-series.ts";

const series = seriesOf("output-factors", [
  ["a", [1, 2], { time: 1_773_475_200, digits: [0.01, 0.1] }],
  ["b", [3, 4], { time: 1_773_475_300, exclude: "door open" }],
  ["a", [5, 6], { time: 1_773_475_230, digits: [0.001, 0.1] }],
  ["a", [7, 8], { time: 1_773_475_999, exclude: "beam stopped", digits: [1e-9, 1e-9] }],
  ["c", [9, 9], {}],
]);

describe("the readings of a series", () => {
  it("NET-9: a condition keeps the rows that are left out, and goes when none is left that counts", () => {
    expect(conditionsOf(series)).toEqual([
      { name: "a", condition: "a", rows: [0, 2, 3] },
      { name: "c", condition: "c", rows: [4] },
    ]);
    expect(counting(series, [0, 2, 3])).toEqual([0, 2]);
    expect(counting(series, [1])).toEqual([]);
  });

  it("NET-9: conditions stand in the order of their first readings that count", () => {
    const late = seriesOf("s", [
      ["b", [1], { exclude: "warming up" }],
      ["a", [1]],
      ["b", [1]],
    ]);
    expect(conditionsOf(late).map(({ name, rows }) => [name, rows])).toEqual([
      ["a", [1]],
      ["b", [0, 2]],
    ]);
  });

  it("NET-9: the mean time is that of the readings that count", () => {
    expect(meanTime(series, [0, 2, 3])).toBe(1_773_475_215);
  });

  it("NET-3: without the time of one reading, or without readings, there is no mean time", () => {
    expect(meanTime(series, [0, 4])).toBeUndefined();
    expect(meanTime(series, [1])).toBeUndefined();
    expect(meanTime(series, [])).toBeUndefined();
  });

  it("NET-3: times since 1970 keep their milliseconds in the mean", () => {
    const times = seriesOf(
      "s",
      [0.125, 0.25, 0.375].map((part) => ["a", [1], { time: 1_773_475_200 + part }]),
    );
    expect(meanTime(times, [0, 1, 2])).toBe(1_773_475_200.25);
  });

  it("NET-6: the last digit of a channel is the finest that a reading that counts shows", () => {
    expect(lastDigit(series, 0)).toBe(1e-6);
    const two = seriesOf("s", [
      ["a", [6.5], { digits: [0.1] }],
      ["a", [6.503], { digits: [0.001] }],
      ["a", [6.5031], { digits: [0.0001], exclude: "another range" }],
    ]);
    expect(lastDigit(two, 0)).toBe(0.001);
  });
});
