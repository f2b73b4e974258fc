import { describe, expect, test } from "vitest";
import { linearAxis, logarithmicAxis } from "./axis.ts";

describe("an even axis", () => {
  test("has room for all values within its ends, and a margin", () => {
    const axis = linearAxis({ name: "x", values: [3, 1, 2], from: 0, to: 200, margin: 0.1 });
    expect(axis.domain[0]).toBeCloseTo(0.8, 12);
    expect(axis.domain[1]).toBeCloseTo(3.2, 12);
    expect(axis.at(2)).toBeCloseTo(100, 9);
  });

  test("runs upwards where the page is given from below", () => {
    const axis = linearAxis({ name: "y", values: [0, 1], from: 300, to: 100 });
    expect(axis.at(0)).toBeGreaterThan(axis.at(1));
  });

  test("shows no less than the least spread, and begins where it must", () => {
    const narrow = linearAxis({ name: "y", values: [1, 1.001], from: 0, to: 100, least: 0.5 });
    expect(narrow.domain[1] - narrow.domain[0]).toBeGreaterThan(0.5);
    expect(linearAxis({ name: "x", values: [1, 5], from: 0, to: 100, start: 0 }).at(0)).toBe(0);
  });

  test.each([[[0]], [[7]], [[-3, -3]]])("has a length even where all values are alike: %j", (values) => {
    const axis = linearAxis({ name: "y", values, from: 0, to: 100 });
    expect(axis.at(values[0]!)).toBeCloseTo(50, 9);
    expect(axis.ticks.length).toBeGreaterThan(1);
  });

  test("refuses to stand for nothing", () => {
    expect(() => linearAxis({ name: "y", values: [], from: 0, to: 1 })).toThrow("an axis needs values");
  });
});

describe("a logarithmic axis", () => {
  test("lays equal ratios out equally", () => {
    const axis = logarithmicAxis({ name: "S", values: [5, 80], from: 0, to: 400 });
    expect(axis.at(10) - axis.at(5)).toBeCloseTo(axis.at(80) - axis.at(40), 9);
    expect(axis.at(5)).toBeGreaterThan(0);
    expect(axis.at(80)).toBeLessThan(400);
  });

  test("refuses zero and below", () => {
    expect(() => logarithmicAxis({ name: "S", values: [0, 1], from: 0, to: 1 })).toThrow(RangeError);
  });

  test("has a length for a single value", () => {
    expect(logarithmicAxis({ name: "S", values: [10], from: 0, to: 100 }).at(10)).toBeCloseTo(50, 9);
  });
});
