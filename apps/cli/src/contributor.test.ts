import { largestContribution, type Quantity, type Result } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { alcedo } from "./testing/console.ts";
import { DEMONSTRATION } from "./testing/scratch.ts";

const quantity = (budget: readonly (readonly [input: string, share: number])[]): Quantity => ({
  id: "x",
  label: "x",
  symbol: "x",
  unit: "1",
  value: 1,
  u: 0.1,
  dof: null,
  k: 2,
  U: 0.2,
  budget: budget.map(([input, share]): Quantity["budget"][number] => ({
    input,
    label: `label of ${input}`,
    type: "A",
    unit: "1",
    value: 0,
    u: 1,
    sensitivity: 1,
    contribution: 1,
    share,
  })),
});

describe("what contributes most", () => {
  test("adds up what comes from one source: correlated channels mean little one by one", () => {
    expect(
      largestContribution(
        quantity([
          ["output-factors/cone-5/repeats/blue-normalised", 1.4],
          ["output-factors/cone-5/repeats/green-normalised", -0.9],
          ["output-correction", 0.45],
          ["output-factors/100x100/1/repeats/blue-normalised", 0.03],
          ["output-factors/100x100/2/repeats/blue-normalised", 0.02],
        ]),
      ),
    ).toEqual({ name: "repeats of cone-5", share: "50 %" });
  });

  test.each([
    ["output-correction", "output correction"],
    ["calibration/dose", "reference dose"],
    ["calibration/reference/repeats/blue", "calibration repeats"],
    ["separation/long/repeats/green-normalised", "separation"],
    ["background/before/repeats/blue", "background"],
    ["output-factors/reference-gap-1/60x60", "drift of the reference"],
    ["output-factors/100x100/2/repeats/blue", "repeats of 100x100"],
    ["output-factors/cone-12.5/resolution/blue", "last digit, cone-12.5"],
    ["output-factors/temperature", "temperature"],
    ["output-factors/cone-5/width-x", "field width"],
    ["something/new", "label of something/new"],
  ])("names %s as %s", (input, name) => {
    expect(largestContribution(quantity([[input, 1]]))).toEqual({ name, share: "100 %" });
  });

  test("is nothing where there is no uncertainty", () => {
    expect(largestContribution(quantity([]))).toBeUndefined();
  });

  test("has a name of its own for every input of the demonstration's output factors", async () => {
    const { quantities } = JSON.parse((await alcedo(["evaluate", DEMONSTRATION, "--json"])).out) as Result;
    const factors = quantities.filter(({ id }) => id.startsWith("output-factor."));
    expect(factors.length).toBeGreaterThan(0);
    for (const { input, label } of factors.flatMap(({ budget }) => budget))
      expect([input, largestContribution(quantity([[input, 1]]))?.name]).not.toEqual([input, label]);
  });
});
