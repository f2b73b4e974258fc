import { evaluate } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { campaignAt } from "./campaign-at.ts";
import { excludeReading } from "./change-reading.ts";
import { keepCampaign } from "./keep-campaign.ts";
import { evaluationAt, evaluationsOf, keepEvaluation } from "./keep-evaluation.ts";
import { valueDigest } from "./seal.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const id = "invented-fields";

test("KEEP-11: an evaluation is kept with the digests of what was evaluated and of the whole result", async () => {
  const archive = await openTestArchive();
  const { campaign } = await keepCampaign(archive, sampleCampaign(), "import");
  const { result } = evaluate(campaign);
  const kept = await keepEvaluation(archive, id, result, "official");
  expect(kept).toMatchObject({ input: result.input, result: valueDigest(result), standing: result.standing });
  const { result: back } = await evaluationAt(archive, kept.seq);
  expect(back.quantities.length).toBeGreaterThan(0);
  expect(back).toEqual({ ...result, quantities: result.quantities.map(({ budget: _, ...quantity }) => quantity) });
});

test("KEEP-11: what is kept evaluates to the digest that was kept", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const { campaign } = await campaignAt(archive, id);
  const kept = await keepEvaluation(archive, id, evaluate(sampleCampaign()).result, "official");
  expect(valueDigest(evaluate(campaign).result)).toBe(kept.result);
});

test("KEEP-11: the same result is kept once, one of later readings beside it", async () => {
  const archive = await openTestArchive();
  const { campaign } = await keepCampaign(archive, sampleCampaign(), "import");
  const kept = await keepEvaluation(archive, id, evaluate(campaign).result, "official");
  expect(await keepEvaluation(archive, id, evaluate(campaign).result, "again")).toEqual(kept);
  const out = await excludeReading(archive, id, { table: "separation", reading: "r1", reason: "spike" });
  const later = await keepEvaluation(archive, id, evaluate(out.campaign).result, "without r1");
  expect(await evaluationsOf(archive, id)).toEqual([later, kept]);
});

test("KEEP-11: an evaluation of other readings, or of no campaign, is refused", async () => {
  const archive = await openTestArchive();
  const { campaign } = await keepCampaign(archive, sampleCampaign(), "import");
  const { result } = evaluate(campaign);
  await excludeReading(archive, id, { table: "separation", reading: "r1", reason: "spike" });
  await expect(keepEvaluation(archive, id, result, "late")).rejects.toMatchObject({ fault: "conflict" });
  await expect(keepEvaluation(archive, "absent", result, "lost")).rejects.toMatchObject({ fault: "unknown" });
  await expect(evaluationAt(archive, 1)).rejects.toThrow(/Revision 1 is no evaluation/);
});
