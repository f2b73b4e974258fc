import { describe, expect, it } from "vitest";
import { atEstimates } from "./elementary-input.ts";
import { referenceAt, wanderKey } from "./reference-signal.ts";
import { wanderVariance } from "./reference-wander.ts";

const visits = [
  { time: 0, signal: 10 },
  { time: 100, signal: 12 },
  { time: 300, signal: 11 },
];
const at = (time?: number) => referenceAt(visits, { condition: "f", ...(time !== undefined && { time }) }, atEstimates);

describe("the reference under a field", () => {
  it("lies on the line between the visits before and after", () => {
    expect(at(25)).toEqual({ signal: 10.5, exposure: 0.25 * 0.75 });
    expect(at(200)).toEqual({ signal: 11.5, exposure: 0.25 });
    expect(at(100)).toEqual({ signal: 12, exposure: 0 });
  });

  it("is the nearest outside, with nothing to bear", () => {
    expect(at(-5)).toEqual({ signal: 10, exposure: 0 });
    expect(at(999)).toEqual({ signal: 11, exposure: 0 });
  });

  it("is the visits' mean where a time is wanting", () => {
    expect(at().signal).toBe(11);
    expect(referenceAt([{ signal: 3 }, { signal: 4 }], { condition: "f", time: 1 }, atEstimates).signal).toBe(3.5);
  });

  it("moves by the fraction that it may have wandered", () => {
    const moved = referenceAt(visits, { condition: "f", time: 200 }, (key) => (key === wanderKey("f") ? 0.01 : 0));
    expect(moved.signal).toBeCloseTo(11.5 * 1.01, 12);
  });
});

describe("the wander between visits", () => {
  it("is what the moves exceed their own uncertainty by", () => {
    expect(wanderVariance([{ value: 0.003, u: 0.001 }])).toBeCloseTo(8e-6, 18);
    expect(
      wanderVariance([
        { value: 0.003, u: 0.001 },
        { value: -0.001, u: 0.001 },
      ]),
    ).toBeCloseTo(4e-6, 18);
  });

  it("is never below zero, and none without a gap", () => {
    expect(wanderVariance([{ value: 0.0005, u: 0.001 }])).toBe(0);
    expect(wanderVariance([])).toBe(0);
  });
});
