import { expect, test } from "vitest";
import { ABSENT } from "./concise.ts";
import { evaluate } from "./evaluate.ts";
import { mainResult } from "./main-result.ts";
import { notGiven } from "./not-given.ts";
import { numberText, quantitiesById, quantityText } from "./quantity-text.ts";
import { madeUpCampaign } from "./testing/made-up-campaign.ts";
import { verificationVerdict } from "./verification-verdict.ts";

const evaluation = evaluate(madeUpCampaign());
const quantities = quantitiesById(evaluation.result);

test("a quantity is written with its unit, with none where it is a pure number, and as absent where there is none", () => {
  expect(quantityText(quantities.get("calibration.coefficient"))).toMatch(/^0\.25\d+\(\d+\) Gy\/nC$/);
  expect(quantityText(quantities.get("separation.stem-ratio"))).toMatch(/^0\.7[45]\d*\(\d+\)$/);
  expect(numberText(quantities.get("calibration.coefficient"))).not.toContain("Gy");
  expect(quantityText(undefined)).toBe(ABSENT);
  expect(numberText(undefined)).toBe(ABSENT);
});

test("each stage's own figure is the one that the stages below take from it", () => {
  const channels = ["blue", "green"];
  expect(mainResult("background", quantities, channels)).toMatch(/^blue .* nC\/s, green .* nC\/s$/);
  expect(mainResult("separation", quantities, channels)).toMatch(/^stem ratio ρ .*, verified up to a stem load of /);
  expect(mainResult("calibration", quantities, channels)).toMatch(/^N_D .* Gy\/nC$/);
  expect(mainResult("output-factors", quantities, channels)).toMatch(/^smallest .*: Ω /);
  expect(mainResult("calibration", new Map(), channels)).toBe("");
});

test("what a physicist came for and does not get is named with its reason", () => {
  expect(notGiven(evaluation.result)).toEqual([]);
  const without = evaluate(
    madeUpCampaign((tables) => {
      delete (tables as Partial<typeof tables>)["output-factors"];
    }),
  );
  expect(notGiven(without.result)).toEqual(["Output factors not given: this campaign has no readings of them."]);
});

test("a condition that was kept aside agrees, fails, or has no verdict where there is no result", () => {
  const names = [...quantities.keys()].flatMap((id) => /^separation\.verify\.(.+)$/.exec(id)?.[1] ?? []);
  expect(names.length).toBeGreaterThan(0);
  for (const name of names) expect(verificationVerdict(evaluation, name)).toBe("agrees");
  expect(verificationVerdict(evaluation, "no-such")).toBe("absent");
  const spoilt = evaluate(
    madeUpCampaign(({ separation }) => {
      for (const row of separation)
        if (row["condition"] === names[0]) row["signal_blue"] = Number(row["signal_blue"]) * 1.05;
    }),
  );
  expect(verificationVerdict(spoilt, names[0]!)).toBe("fails");
});
