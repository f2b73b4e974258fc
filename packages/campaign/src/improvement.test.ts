import { describe, expect, test } from "vitest";
import { improvement } from "./improvement.ts";
import type { Quantity } from "./result.ts";

/** A quantity of u = 0.02 whose variance comes from the given inputs, by share. */
const quantity = (budget: Readonly<Record<string, number>>, u: number | null = 0.02): Quantity => ({
  ...{ id: "x", label: "x", symbol: "x", unit: "1", value: 1, u, dof: null, k: 2, U: 0.04 },
  budget: Object.entries(budget).map(([input, share]) => ({
    ...{ input, label: input, type: "A", unit: "1", value: 0, u: 1, sensitivity: 1, contribution: 1, share },
  })),
});

describe("what to improve first", () => {
  test("is the source of the largest share, and what is left without it is u·√(1 − share)", () => {
    const found = improvement(quantity({ "output-correction": 0.75, "penumbra-sigma": 0.25 }))!;
    expect(found).toMatchObject({ name: "output correction", share: 0.75 });
    // a quarter of the variance is half of the uncertainty
    expect(found.u).toBeCloseTo(0.01, 12);
    expect(found.advice).toContain("Repeating readings does not help");
  });

  test("adds up what comes from one source under several names", () => {
    const found = improvement(
      quantity({
        "output-factors/cone-5/repeats/blue": 0.3,
        "output-factors/cone-5/repeats/green": 0.3,
        "output-correction": 0.4,
      }),
    )!;
    expect(found).toMatchObject({ name: "repeats of cone-5", advice: "Take more readings under this condition." });
    expect(found.share).toBeCloseTo(0.6, 12);
  });

  test.each([
    ["calibration/dose", "reference dosimetry"],
    ["background/before/repeats/blue", "background readings"],
    ["separation/short/dose-equality", "least and with most fibre"],
    ["output-factors/reference-gap-2/cone-5", "Return to the reference field more often"],
    ["something new", "Look at something new first"],
  ])("%s: %s", (input, advice) => expect(improvement(quantity({ [input]: 1 }))!.advice).toContain(advice));

  test("is nothing where no source stands out, or where there is no uncertainty", () => {
    const many = Object.fromEntries(Array.from({ length: 10 }, (_, k) => [`source ${k}`, 0.1]));
    expect(improvement(quantity(many))).toBeUndefined();
    expect(improvement(quantity({ a: 1 }, null))).toBeUndefined();
    expect(improvement(quantity({}))).toBeUndefined();
  });

  test("leaves nothing where a negative share elsewhere makes one more than the whole", () => {
    expect(improvement(quantity({ a: 1.2, b: -0.2 }))!.u).toBe(0);
  });
});
