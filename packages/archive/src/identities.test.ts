import { expect, test } from "vitest";
import { historyOf } from "./history.ts";
import { describeIdentity, identities } from "./identities.ts";
import { keepCampaign } from "./keep-campaign.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

test("KEEP-10: a campaign registers its fibre and beam where they are new, as it describes them", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign("one", "F-2"), "import");
  await keepCampaign(archive, sampleCampaign("two", "F-1"), "import");
  await keepCampaign(archive, sampleCampaign("three", "F-2", "B-2"), "import");
  const fibres = await identities(archive, "fibre");
  expect(fibres.map(({ id }) => id)).toEqual(["F-1", "F-2"]);
  expect(fibres[0]!.description).toEqual(sampleCampaign().descriptor.alcedo.detector);
  expect((await identities(archive, "beam")).map(({ id }) => id)).toEqual(["B-1", "B-2"]);
  expect((await historyOf(archive, "fibre", "F-2")).map(({ why }) => why)).toEqual(["first seen in the campaign one"]);
});

test("KEEP-10: a new description is a revision, and the last one counts", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const [fibre] = await identities(archive, "fibre");
  const description = { ...fibre!.description, accumulatedDose_Gy: 410 };
  const changed = await describeIdentity(archive, "fibre", "F-1", {
    description,
    after: fibre!.revision,
    why: "dose log",
  });
  expect(await identities(archive, "fibre")).toEqual([changed]);
  expect(await historyOf(archive, "fibre", "F-1")).toHaveLength(2);
});

test("KEEP-10: a description of an earlier revision is refused, one of a new fibre is not", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const describe = async (id: string, after: number) =>
    describeIdentity(archive, "fibre", id, { description: { id }, after, why: "new" });
  await expect(describe("F-1", 0)).rejects.toMatchObject({ fault: "conflict" });
  expect((await describe("F-9", 0)).id).toBe("F-9");
});
