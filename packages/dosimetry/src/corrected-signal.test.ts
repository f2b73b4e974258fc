import { Model, ONE, type Scalar, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { correctedSignal, stemLoad, subtractedFraction } from "./corrected-signal.ts";
import { EXACT } from "./testing/exact-set.ts";

const NC = Unit.parse("nC");

function nodes() {
  const model = new Model();
  let count = 0;
  const node = (value: number, unit = NC) =>
    model.constant({ key: `x${count++}`, symbol: "x", label: "x", unit, value });
  const signals = (values: readonly number[]) => values.map((value) => node(value));
  const two = (ratio: number) => {
    const stemRatio = node(ratio, ONE);
    return { stemRatio, weights: [stemRatio.negative()] };
  };
  return { signals, two, weights: (values: readonly number[]) => values.map((value) => node(value, ONE)) };
}

describe("the corrected signal", () => {
  it("SEP-9: with two channels it is q1 − ρ·q2", () => {
    const { signals, two } = nodes();
    const weights = two(0.75);
    // docs/checks.md, Light (C): every 100 cGy of the set leaves 3.875 nC, the small field's 60 cGy 2.325 nC
    for (const name of ["little", "much", "half", "long"] as const)
      expect(correctedSignal(weights, signals(EXACT[name])).value).toBeCloseTo(3.875, 14);
    expect(correctedSignal(weights, signals(EXACT.small)).value).toBeCloseTo(2.325, 14);
  });

  it("SEP-9: with more channels it is the weighted sum, the first weight being one", () => {
    const { signals, weights } = nodes();
    const corrected = correctedSignal({ weights: weights([-0.5, 0.25]) }, signals([10, 6, 4]));
    expect(corrected.value).toBeCloseTo(10 - 3 + 1, 14);
    expect(corrected.unit).toBe(NC);
  });

  it("SEP-9: the stem load of two channels is q2/S", () => {
    const { signals, two } = nodes();
    const load = (name: keyof typeof EXACT) => {
      const own = signals(EXACT[name]);
      return stemLoad(own, correctedSignal(two(0.75), own)).value;
    };
    // docs/job.md, test set A (C): 0.903, 4.516, 0.542
    expect(load("little")).toBeCloseTo(0.903, 3);
    expect(load("much")).toBeCloseTo(4.516, 3);
    expect(load("small")).toBeCloseTo(0.542, 3);
  });

  it("SEP-9: of more channels it is what was taken away over what is left", () => {
    const { signals, weights } = nodes();
    const own = signals([10, 6, 4]);
    expect(stemLoad(own, correctedSignal({ weights: weights([-0.5, 0.25]) }, own)).value).toBeCloseTo(2 / 8, 14);
  });

  it("SEP-9: the fraction taken away is 1 − S/q1", () => {
    const { signals, two } = nodes();
    const fraction = (name: keyof typeof EXACT) => {
      const own = signals(EXACT[name]);
      return subtractedFraction(own, correctedSignal(two(0.75), own)).value;
    };
    expect(fraction("little")).toBeCloseTo(1 - 3.875 / 6.5, 14);
    // larger than the share of stem light alone (23, 71 and 8 %, docs/job.md, C): the second channel sees scintillation too
    expect(fraction("little")).toBeGreaterThan(0.23);
    expect(fraction("much")).toBeGreaterThan(0.71);
    expect(fraction("small")).toBeGreaterThan(0.08);
  });

  it("SEP-9: an error δρ changes the logarithm of a ratio of two signals by −(ℓ1 − ℓ2)·δρ", () => {
    const positive = fc.double({ min: 1, max: 20, noNaN: true });
    const ratio = (weights: { stemRatio: Scalar; weights: Scalar[] }, a: readonly Scalar[], b: readonly Scalar[]) =>
      correctedSignal(weights, a).value / correctedSignal(weights, b).value;
    fc.assert(
      fc.property(positive, positive, positive, positive, (s1, s2, stem1, stem2) => {
        const { signals, two } = nodes();
        const [a, b] = [signals([s1 + 0.75 * stem1, stem1]), signals([s2 + 0.75 * stem2, stem2])];
        const error = 1e-6;
        const [right, wrong] = [two(0.75), two(0.75 + error)];
        const loads = [a, b].map((own) => stemLoad(own, correctedSignal(right, own)).value);
        const change = ratio(wrong, a, b) / ratio(right, a, b) - 1;
        const expected = -(loads[0]! - loads[1]!) * error;
        expect(Math.abs(change - expected)).toBeLessThan(1e-9);
        // equal stem loads cancel it
        expect(ratio(wrong, a, a)).toBe(1);
      }),
    );
  });
});
