import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import type { Archive } from "./archive.ts";
import { addReading } from "./change-reading.ts";
import { keepCampaign } from "./keep-campaign.ts";
import { keepEvaluation } from "./keep-evaluation.ts";
import { fibreCampaigns, latestEvaluations } from "./latest-evaluations.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const evaluated = async (archive: Archive, id: string, campaign: Campaign) =>
  keepEvaluation(archive, id, evaluate(campaign).result, "looked at");

async function twoFibres() {
  const archive = await openTestArchive();
  for (const [name, fibre] of [["one", "F-1"] as const, ["two", "F-2"] as const, ["three", "F-1"] as const])
    await keepCampaign(archive, sampleCampaign(name, fibre), "first import");
  return archive;
}

describe("the newest evaluation of each campaign", () => {
  test("is found for those asked after, and missing where there is none", async () => {
    const archive = await twoFibres();
    await evaluated(archive, "one", sampleCampaign("one", "F-1"));
    const cells = { reading: "b2", condition: "dark", duration_s: "60", signal_blue: "0.01", signal_green: "0.01" };
    const later = await addReading(archive, "one", { table: "background", cells, why: "one more" });
    const second = await evaluated(archive, "one", later.campaign);
    await evaluated(archive, "two", sampleCampaign("two", "F-2"));
    const found = await latestEvaluations(archive, ["one", "three"]);
    expect([...found]).toEqual([["one", second]]);
    expect(await latestEvaluations(archive, [])).toEqual(new Map());
  });

  test("is listed by fibre, with the number of campaigns and their last change, the latest first", async () => {
    const archive = await twoFibres();
    const one = await evaluated(archive, "one", sampleCampaign("one", "F-1"));
    const three = await evaluated(archive, "three", sampleCampaign("three", "F-1"));
    const all = await fibreCampaigns(archive, 10);
    expect(all.map(({ fibre, campaigns }) => [fibre, campaigns])).toEqual([["F-1", 2] as const, ["F-2", 1] as const]);
    expect(all[0]!.evaluations).toEqual([three, one]);
    expect(all[1]!.evaluations).toEqual([]);
    expect(all[0]!.last > all[1]!.last).toBe(true);
    expect((await fibreCampaigns(archive, 1))[0]!.evaluations).toEqual([three]);
  });
});
