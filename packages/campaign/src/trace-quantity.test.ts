import { formulaText, type TraceStep } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { evaluate } from "./evaluate.ts";
import { exactCampaign, madeUpCampaign } from "./testing/made-up-campaign.ts";
import { traceQuantity } from "./trace-quantity.ts";

/** Every step of a tree. */
function stepsOf(step: TraceStep): TraceStep[] {
  return [step, ...step.inputs.flatMap(stepsOf)];
}

describe("the trace of a quantity", () => {
  const evaluation = evaluate(madeUpCampaign());

  it("goes from the output factor down to the raw readings of every series that it rests on", () => {
    const root = traceQuantity(evaluation, "output-factor.5x5")!;
    expect(root.value).toBe(evaluation.nodes.get("output-factor.5x5")!.value);
    const readings = stepsOf(root).flatMap((step) => step.readings ?? []);
    expect(new Set(readings.map(({ series }) => series))).toEqual(
      new Set(["output-factors", "separation", "background"]),
    );
    expect(readings.map(({ reading }) => reading)).toEqual(expect.arrayContaining(["5x5-1", "long-2", "before-1"]));
  });

  it("the parts of its uncertainty add up to one at every step", () => {
    const root = traceQuantity(evaluation, "output-factor.5x5")!;
    expect(root.share).toBeCloseTo(1, 9);
    for (const { inputs, share } of stepsOf(root))
      if (inputs.length > 0) expect(inputs.reduce((sum, input) => sum + input.share, 0)).toBeCloseTo(share, 9);
  });

  it("of the stem ratio names the fit, and its inputs the net signals", () => {
    const root = traceQuantity(evaluate(exactCampaign()), "separation.stem-ratio")!;
    expect(formulaText(root.formula!, () => "?")).toContain("through 2 conditions");
    const keys = stepsOf(root).flatMap(({ key }) => key ?? []);
    expect(keys).toContain("separation/little/net/blue-normalised");
    expect(keys).toContain("separation/much/dose-equality");
  });

  it("a number without a model behind it has none, nor has one that is not there", () => {
    expect(traceQuantity(evaluation, "separation.chi2")).toBeUndefined();
    expect(traceQuantity(evaluation, "output-factor.7x7")).toBeUndefined();
    const broken = evaluate(madeUpCampaign(({ separation }) => (separation[0]!["signal_blue"] = "x")));
    expect(traceQuantity(broken, "output-factor.5x5")).toBeUndefined();
  });
});
