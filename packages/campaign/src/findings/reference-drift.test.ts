import { describe, expect, it } from "vitest";
import { evaluate } from "../evaluate.ts";
import { madeUpCampaign } from "../testing/made-up-campaign.ts";

/** The drift as reported, and whether it was found worth a warning. */
function driftOf(output: number, own: number) {
  const campaign = madeUpCampaign(
    ({ "output-factors": fields }) => {
      for (const row of fields.slice(-3)) row["signal_blue"] = 1.015 * Number(row["signal_blue"]);
    },
    { output, own },
  );
  const { quantities, findings } = evaluate(campaign).result;
  const { value, U } = quantities.find(({ id }) => id === "output-factors.drift")!;
  return { value, U: U!, warned: findings.some(({ code }) => code === "reference-drift") };
}

describe("a drift of the reference", () => {
  it("is warned of where it stands out of its uncertainty, and not where it may be chance", () => {
    const [clear, hidden] = [driftOf(0.001, 0.0001), driftOf(0.001, 0.03)];
    for (const { value } of [clear, hidden]) expect(value).toBeGreaterThan(0.005);
    expect(clear.value).toBeGreaterThan(clear.U);
    expect(hidden.value).toBeLessThan(hidden.U);
    expect([clear.warned, hidden.warned]).toEqual([true, false]);
  });
});
