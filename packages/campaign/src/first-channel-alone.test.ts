import { expect, test } from "vitest";
import { evaluate } from "./evaluate.ts";
import { firstChannelAlone } from "./first-channel-alone.ts";
import { exactCampaign, madeUpCampaign } from "./testing/made-up-campaign.ts";

test("the first channel alone is the ratio of its means: 3.27/6.5 for the exact set of docs/checks.md", () => {
  const alone = firstChannelAlone(evaluate(exactCampaign()));
  expect([...alone.keys()]).toEqual(["6x6"]);
  expect(alone.get("6x6")).toBeCloseTo(3.27 / 6.5, 12);
});

test("it is off where the fields see unequal lengths of fibre, and the corrected one is not", () => {
  const evaluation = evaluate(madeUpCampaign());
  // the made-up detector: 50 cGy and 1.5 cm of fibre over 100 cGy and 5 cm; the doses' ratio is 0.5
  const expected = (50 * (0.05 + 0.003 * 1.5)) / (100 * (0.05 + 0.003 * 5));
  expect(firstChannelAlone(evaluation).get("5x5")).toBeCloseTo(expected, 2);
  const signals = evaluation.evaluated!.signals.filter(({ series }) => series === "output-factors");
  const corrected = (name: string) => signals.find(({ condition }) => condition === name)!.corrected.value;
  expect(corrected("5x5") / corrected("100x100")).toBeCloseTo(0.5, 2);
});

test("there is nothing to compare where no output factors were measured, or nothing could be evaluated", () => {
  const without = madeUpCampaign((tables) => {
    delete (tables as Partial<typeof tables>)["output-factors"];
  });
  expect(firstChannelAlone(evaluate(without)).size).toBe(0);
  const broken = madeUpCampaign((tables) => {
    tables.separation[0]!["signal_blue"] = "much";
  });
  expect(firstChannelAlone(evaluate(broken)).size).toBe(0);
});
