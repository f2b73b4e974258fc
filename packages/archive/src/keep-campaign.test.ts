import type { Campaign } from "@alcedo-dosimetry/campaign";
import fc from "fast-check";
import { expect, test } from "vitest";
import { campaignAt } from "./campaign-at.ts";
import { historyOf } from "./history.ts";
import { keepCampaign, reviseCampaign, undo } from "./keep-campaign.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const id = "invented-fields";

function withNote(campaign: Campaign, text: string): Campaign {
  const { separation } = campaign.tables;
  const rows = separation!.rows.map((row, i) => (i === 0 ? [...row.slice(0, -1), text] : row));
  return { ...campaign, tables: { ...campaign.tables, separation: { ...separation!, rows } } };
}

test("KEEP-1: every change says who made it, when and why", async () => {
  const archive = await openTestArchive();
  const first = await keepCampaign(archive, sampleCampaign(), "first import");
  const other = { ...archive, who: "S. Second" };
  const change = { after: first.revision, why: "typed note" };
  await reviseCampaign(other, id, withNote(first.campaign, "x"), change);
  const history = await historyOf(archive, "campaign", id);
  expect(history.map(({ who, at, why }) => [who, at, why])).toEqual([
    ["R. Tester", "2026-03-14T08:00:01.000Z", "first import"],
    ["S. Second", "2026-03-14T08:00:04.000Z", "typed note"],
  ]);
});

test("KEEP-1: a change without who or why is refused, and nothing of it is kept", async () => {
  const archive = await openTestArchive();
  await expect(keepCampaign(archive, sampleCampaign(), "  ")).rejects.toThrow(/why the change was made is empty/);
  const nobody = { ...archive, who: "" };
  await expect(keepCampaign(nobody, sampleCampaign(), "import")).rejects.toThrow(/who made the change is empty/);
  await expect(keepCampaign(archive, sampleCampaign(), "a\u0000b")).rejects.toThrow(/no text may hold/);
  await expect(keepCampaign(archive, sampleCampaign(), "\ud800")).rejects.toThrow(/no text may hold/);
  expect(archive.file.rows("select * from revision")).toEqual([]);
  expect(archive.file.rows("select * from campaign")).toEqual([]);
});

test("KEEP-3: a campaign comes back as it was kept, the order of keys and unknown columns included", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const { campaign } = await campaignAt(archive, id);
  expect(JSON.stringify(campaign)).toBe(JSON.stringify(sampleCampaign()));
});

test("KEEP-3: any text that a cell may hold comes back as it was typed", async () => {
  const archive = await openTestArchive();
  let { revision } = await keepCampaign(archive, sampleCampaign(), "import");
  const anyText = fc.oneof(
    fc.string({ unit: "binary" }),
    fc.constantFrom("\u0000", "a\u0000b", "'", '"', "\u2028", "\ufeff"),
  );
  await fc.assert(
    fc.asyncProperty(anyText, async (text) => {
      const typed = withNote(sampleCampaign(), text);
      ({ revision } = await reviseCampaign(archive, id, typed, { after: revision, why: "typed" }));
      expect((await campaignAt(archive, id)).campaign).toEqual(typed);
    }),
    { numRuns: 60 },
  );
});

test("KEEP-4: keeping what is kept already makes no revision; another file name does", async () => {
  const archive = await openTestArchive();
  const { revision: after } = await keepCampaign(archive, sampleCampaign(), "import");
  expect((await reviseCampaign(archive, id, sampleCampaign(), { after, why: "again" })).revision).toBe(after);
  const renamed = sampleCampaign();
  renamed.descriptor.resources[1]!.path = "data/dark.csv";
  expect((await reviseCampaign(archive, id, renamed, { after, why: "tidy" })).revision).toBe(after + 3);
});

test("KEEP-5: a change to a revision that is not the latest any more is refused, and so is a second campaign of a name", async () => {
  const archive = await openTestArchive();
  const { revision: after } = await keepCampaign(archive, sampleCampaign(), "import");
  const faster = await reviseCampaign(archive, id, withNote(sampleCampaign(), "faster"), { after, why: "a" });
  const slower = reviseCampaign(archive, id, withNote(sampleCampaign(), "slower"), { after, why: "b" });
  await expect(slower).rejects.toMatchObject({
    fault: "conflict",
    message: expect.stringContaining("revision 4") as unknown,
  });
  await expect(undo(archive, id, { after, why: "c" })).rejects.toMatchObject({ fault: "conflict" });
  await expect(keepCampaign(archive, sampleCampaign(), "d")).rejects.toMatchObject({ fault: "exists" });
  expect(await campaignAt(archive, id)).toEqual(faster);
});

test("KEEP-5: of two changes made at the same moment one is kept, and the other is told", async () => {
  const archive = await openTestArchive();
  const { revision: after } = await keepCampaign(archive, sampleCampaign(), "import");
  const outcomes = await Promise.allSettled(
    ["a", "b"].map(async (text) => reviseCampaign(archive, id, withNote(sampleCampaign(), text), { after, why: text })),
  );
  expect(outcomes.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
});

test("KEEP-8: undo is a new revision with the document as it was; taken back twice, the change is there again", async () => {
  const archive = await openTestArchive();
  const first = await keepCampaign(archive, sampleCampaign(), "import");
  const changed = withNote(sampleCampaign(), "slip");
  const second = await reviseCampaign(archive, id, changed, { after: first.revision, why: "typed" });
  const third = await undo(archive, id, { after: second.revision, why: "a slip" });
  expect(third.campaign).toEqual(sampleCampaign());
  const fourth = await undo(archive, id, { after: third.revision, why: "no slip" });
  expect(fourth.campaign).toEqual(changed);
  expect((await historyOf(archive, "campaign", id)).map(({ why }) => why)).toEqual([
    "import",
    "typed",
    "a slip",
    "no slip",
  ]);
  expect((await campaignAt(archive, id, second.revision)).campaign).toEqual(changed);
});

test("KEEP-8: the first revision cannot be taken back", async () => {
  const archive = await openTestArchive();
  const { revision: after } = await keepCampaign(archive, sampleCampaign(), "import");
  await expect(undo(archive, id, { after, why: "all" })).rejects.toMatchObject({ fault: "invalid" });
});

test("KEEP-9: each revision can be read; one of something else, or none, is refused by its number", async () => {
  const archive = await openTestArchive();
  const first = await keepCampaign(archive, sampleCampaign(), "import");
  await expect(campaignAt(archive, id, 2)).rejects.toThrow(/^Revision 2 is none of the campaign invented-fields/);
  await expect(campaignAt(archive, id, 99)).rejects.toMatchObject({ fault: "unknown" });
  await expect(campaignAt(archive, "absent")).rejects.toThrow(/no campaign absent/);
  expect(await campaignAt(archive, id, first.revision)).toEqual(first);
});

test("a campaign that cannot be named by a digest is refused whole", async () => {
  const archive = await openTestArchive();
  await expect(keepCampaign(archive, withNote(sampleCampaign(), "\ud800"), "import")).rejects.toThrow(/surrogate/);
  expect(archive.file.rows("select * from revision")).toEqual([]);
});
