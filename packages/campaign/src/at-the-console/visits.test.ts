import { describe, expect, test } from "vitest";
import { evaluate } from "../evaluate.ts";
import { demonstration, madeUpCampaign, rowsOf } from "../testing/made-up-campaign.ts";
import { visitsOf } from "./visits.ts";

const made = madeUpCampaign();
const visits = visitsOf(made, evaluate(made));
const visit = (series: string, condition: string, which = 0) =>
  visits.filter((one) => one.series === series && one.condition === condition)[which]!;

describe("the visits of a campaign", () => {
  test("stand in the order of the chain and of the tables; the reference that was come back to is there twice", () => {
    expect(visits.map(({ series, condition }) => `${series} ${condition}`)).toEqual([
      ...["background before", "background after"],
      ...["separation short", "separation long", "separation half", "separation turned"],
      "calibration reference",
      ...["output-factors 100x100", "output-factors 30x30", "output-factors 10x10", "output-factors 5x5"],
      "output-factors 100x100",
    ]);
    expect(visit("output-factors", "100x100", 1).readings.map(({ id }) => id)).toEqual([
      "last-100x100-1",
      "last-100x100-2",
      "last-100x100-3",
    ]);
  });

  test("hold each reading's corrected light, about q₁ − ρ·q₂ of its net signals", () => {
    // docs/checks.md, set A: 0.05 and 0.015 nC/cGy, true ρ 0.75: 100 cGy give 100·(0.05 − 0.75·0.015) = 3.875 nC
    for (const { corrected } of visit("output-factors", "100x100").readings) expect(corrected).toBeCloseTo(3.875, 1);
    for (const { signals, corrected } of visit("separation", "long").readings)
      expect(corrected).toBeCloseTo(signals[0]! - 0.75 * signals[1]!, 1);
  });

  test("hold the background's readings as read: there is no light to correct", () => {
    const [first] = visit("background", "before").readings;
    expect(first!.corrected).toBeUndefined();
    expect(first!.signals).toEqual([0.0241, 0.0119]);
    expect(first!.digits).toEqual([0.0001, 0.0001]);
  });

  test("know the table's row of each reading, from 0", () => {
    expect(visit("separation", "long").readings.map(({ row }) => row)).toEqual([3, 4, 5]);
  });

  test("keep a reading that is left out, with its reason, in its place", () => {
    const campaign = madeUpCampaign((tables) => {
      rowsOf(tables.separation, "long")[1]!["exclude"] = "beam stopped";
    });
    const long = visitsOf(campaign, evaluate(campaign)).find(({ condition }) => condition === "long")!;
    expect(long.readings.map(({ id, exclude }) => [id, exclude])).toEqual([
      ["long-1", undefined],
      ["long-2", "beam stopped"],
      ["long-3", undefined],
    ]);
  });

  test("are there as read where nothing could be evaluated yet", () => {
    const campaign = madeUpCampaign((tables) => {
      tables.separation = rowsOf(tables.separation, "short").slice(0, 1);
    });
    const found = visitsOf(campaign, evaluate(campaign));
    const short = found.find(({ condition }) => condition === "short")!;
    expect(short.readings).toHaveLength(1);
    expect(short.readings[0]!.corrected).toBeUndefined();
  });

  test("leave out a row that is not whole yet, and nothing else", () => {
    const campaign = madeUpCampaign((tables) => {
      rowsOf(tables.separation, "long")[2]!["signal_green"] = "";
    });
    const long = visitsOf(campaign, evaluate(campaign)).find(({ condition }) => condition === "long")!;
    expect(long.readings.map(({ id }) => id)).toEqual(["long-1", "long-2"]);
  });

  test("are none where the descriptor cannot be read", () => {
    const campaign = madeUpCampaign((_, descriptor) => {
      (descriptor as unknown as Record<string, unknown>)["alcedo"] = {};
    });
    expect(visitsOf(campaign, evaluate(campaign))).toEqual([]);
  });

  test("expect more scatter of small signals, as the evaluation does", () => {
    const campaign = demonstration();
    const found = visitsOf(campaign, evaluate(campaign)).filter(({ series }) => series === "output-factors");
    const relative = (condition: string) => {
      const own = found.find((one) => one.condition === condition)!;
      return own.expected![0]! / own.readings[0]!.signals[0]!;
    };
    expect(relative("cone-5")).toBeGreaterThan(relative("100x100"));
  });
});
