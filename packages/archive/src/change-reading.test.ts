import { type Campaign, digest, evaluate } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { campaignAt } from "./campaign-at.ts";
import { addReading, excludeReading, includeReading } from "./change-reading.ts";
import { historyOf } from "./history.ts";
import { keepCampaign, reviseCampaign, undo } from "./keep-campaign.ts";
import { listCampaigns } from "./list-campaigns.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const id = "invented-fields";
const cells = { reading: "b2", condition: "dark", duration_s: "60", signal_blue: "0.0130", signal_green: "0.009" };

test("KEEP-6: a reading is added behind the others, cells as typed, and the record holds that reading alone", async () => {
  const archive = await openTestArchive();
  const { revision } = await keepCampaign(archive, sampleCampaign(), "import");
  const added = await addReading(archive, id, { table: "background", cells, why: "console" });
  expect(added.base).toBe(revision);
  const { campaign } = await campaignAt(archive, id);
  expect(campaign).toEqual(added.campaign);
  expect(campaign.tables["background"]!.rows).toEqual([
    ["b1", "dark", "60", "0.0120", "0.009"],
    ["b2", "dark", "60", "0.0130", "0.009"],
  ]);
  expect(campaign.tables["background"]!.lines).toEqual([2, 3]);
  const [{ body }] = archive.file.rows(`select body from revision where seq = ${added.revision}`) as [{ body: string }];
  expect(JSON.parse(body)).toEqual({ reading: { table: "background", cells } });
});

test("KEEP-6: many readings one by one give the campaign that has them all", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  for (let i = 2; i <= 40; i++) {
    await addReading(archive, id, { table: "background", cells: { ...cells, reading: `b${i}` }, why: "console" });
  }
  const { campaign } = await campaignAt(archive, id);
  expect(campaign.tables["background"]!.rows.map(([name]) => name)).toEqual(
    Array.from({ length: 40 }, (_, i) => `b${i + 1}`),
  );
  expect((await listCampaigns(archive))[0]).toMatchObject({ readings: 44, input: digest(campaign) });
});

test("KEEP-6: a column that the table lacks is added to it, empty for the earlier readings", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const wide = { ...cells, note: "door open" };
  const { campaign } = await addReading(archive, id, { table: "background", cells: wide, why: "console" });
  expect(campaign.tables["background"]!.columns.at(-1)).toBe("note");
  expect(campaign.tables["background"]!.rows.map((row) => row.at(-1))).toEqual(["", "door open"]);
});

test("KEEP-6: headers typed with blanks around them are the same columns", async () => {
  const archive = await openTestArchive();
  const typed = sampleCampaign();
  const background = {
    ...typed.tables["background"]!,
    columns: [" reading", "condition ", "duration_s", "signal_Blue", "signal_green"],
  };
  await keepCampaign(archive, { ...typed, tables: { ...typed.tables, background } }, "import");
  const { campaign } = await addReading(archive, id, { table: "background", cells, why: "console" });
  expect(campaign.tables["background"]!.columns).toEqual(background.columns);
  expect(campaign.tables["background"]!.rows[1]).toEqual(Object.values(cells));
});

test.each([
  ["a name that is there", { table: "background", cells: { ...cells, reading: "b1" } }, /has a reading b1 already/],
  ["no name", { table: "background", cells: { condition: "dark" } }, /has no name/],
  ["a table that is not there", { table: "scan", cells }, /no table scan. Its tables are separation, background/],
  ["a table of the language's own", { table: "constructor", cells }, /no table constructor/],
  ["a column without a name", { table: "background", cells: { ...cells, "": "1" } }, /column has no name/],
])("KEEP-6: a reading with %s is refused, and nothing is kept", async (_, reading, message) => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  await expect(addReading(archive, id, { ...reading, why: "console" })).rejects.toThrow(message);
  expect(await historyOf(archive, "campaign", id)).toHaveLength(1);
});

test("KEEP-7: a reading that is left out stays, with its reason, and can be taken back in", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const out = await excludeReading(archive, id, { table: "separation", reading: "r2", reason: "door opened" });
  expect(out.campaign.tables["separation"]!.rows[1]).toEqual([
    ...sampleCampaign().tables["separation"]!.rows[1]!,
    "door opened",
  ]);
  const ratio = (campaign: Campaign) =>
    evaluate(campaign).result.quantities.find(({ id: quantity }) => quantity === "separation.stem-ratio")!.value;
  expect(ratio(out.campaign)).not.toBe(ratio(sampleCampaign()));
  const back = await includeReading(archive, id, { table: "separation", reading: "r2", why: "door was shut" });
  expect(digest(back.campaign)).toBe(digest(sampleCampaign()));
  expect((await historyOf(archive, "campaign", id)).map(({ why }) => why)).toEqual([
    "import",
    "door opened",
    "door was shut",
  ]);
});

test("KEEP-7: leaving out needs a reason and a reading", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const leave = async (reading: string, reason: string) =>
    excludeReading(archive, id, { table: "separation", reading, reason });
  await expect(leave("r2", " ")).rejects.toThrow(/No reason is given/);
  await expect(leave("r9", "spike")).rejects.toThrow(/no reading r9/);
});

test("KEEP-7: of two readings of one name none is left out", async () => {
  const archive = await openTestArchive();
  const typed = sampleCampaign();
  const table = typed.tables["background"]!;
  const twice = { ...table, rows: [table.rows[0]!, table.rows[0]!], lines: [2, 3] };
  await keepCampaign(archive, { ...typed, tables: { ...typed.tables, background: twice } }, "import");
  const leave = excludeReading(archive, id, { table: "background", reading: "b1", reason: "spike" });
  await expect(leave).rejects.toThrow(/two readings b1/);
});

test("KEEP-8: an added reading is taken back as any change is, and stays in the record", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const added = await addReading(archive, id, { table: "background", cells, why: "console" });
  const without = await undo(archive, id, { after: added.revision, why: "wrong field" });
  expect(without.campaign).toEqual(sampleCampaign());
  expect((await campaignAt(archive, id, added.revision)).campaign).toEqual(added.campaign);
  const again = await addReading(archive, id, { table: "background", cells, why: "console" });
  expect(again.base).toBe(without.revision);
  expect(again.campaign).toEqual(added.campaign);
  const same = await reviseCampaign(archive, id, added.campaign, { after: again.revision, why: "same" });
  expect(same.revision).toBe(again.revision);
});
