import { describe, expect, it } from "vitest";
import { gathered, lastDigits, meanTime } from "./measured.ts";

describe("readings", () => {
  it("have a mean time where all have a time", () => {
    expect(meanTime([{ time: 1 }, { time: 4 }])).toBe(2.5);
    expect(meanTime([{ time: 1 }, {}])).toBeUndefined();
    expect(meanTime([])).toBeUndefined();
  });

  it("are gathered in the order of first appearance", () => {
    expect([...gathered(["b1", "a1", "b2"], (name) => name.slice(0, 1))]).toEqual([
      ["b", ["b1", "b2"]],
      ["a", ["a1"]],
    ]);
  });

  it("were shown to the finest digit that any of them has", () => {
    expect(lastDigits([{ digits: [0.1, 0.001] }, { digits: [0.01, 1] }])).toEqual([0.01, 0.001]);
  });
});
