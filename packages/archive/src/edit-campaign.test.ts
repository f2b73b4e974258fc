import { applyEdits, type Edit } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { audit } from "./audit.ts";
import { campaignAt } from "./campaign-at.ts";
import { addReading } from "./change-reading.ts";
import { editCampaign } from "./edit-campaign.ts";
import { historyOf } from "./history.ts";
import { identities } from "./identities.ts";
import { keepCampaign, undo } from "./keep-campaign.ts";
import { listCampaigns } from "./list-campaigns.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const id = "invented-fields";
const table = "separation";
const edits: Edit[] = [{ cell: { table, row: 1, column: "signal_blue", text: "6,51" } }];
const key = "6f1c2f0e-0000-4000-8000-000000000001";
const cells = { reading: "b2", condition: "dark", duration_s: "60", signal_blue: "0.0130", signal_green: "0.009" };

async function withCampaign() {
  const archive = await openTestArchive();
  const { revision } = await keepCampaign(archive, sampleCampaign(), "import");
  const latest = (await listCampaigns(archive))[0]!.latest;
  expect(latest).toBe(revision);
  return { archive, after: revision };
}

test("KEEP-12: edits are kept as they are, and the campaign comes back with them", async () => {
  const { archive, after } = await withCampaign();
  const edited = await editCampaign(archive, id, { after, edits, why: "misread" });
  expect(edited.base).toBe(after);
  expect(edited.campaign).toEqual(applyEdits(sampleCampaign(), edits));
  expect(await campaignAt(archive, id)).toEqual(edited);
  const [{ body }] = archive.file.rows(`select body from revision where seq = ${edited.revision}`) as [
    { body: string },
  ];
  expect(JSON.parse(body)).toEqual({ edits });
  expect((await audit(archive)).faults).toEqual([]);
});

test("KEEP-12: edits to a revision that is not the latest are refused, and the latest is told", async () => {
  const { archive, after } = await withCampaign();
  const { revision } = await addReading(archive, id, { table: "background", cells, why: "console" });
  await expect(editCampaign(archive, id, { after, edits, why: "late" })).rejects.toMatchObject({
    ...{ fault: "conflict", revision },
  });
  expect(await historyOf(archive, "campaign", id)).toHaveLength(2);
});

test("KEEP-12: an edit that does not fit is refused in words, and none of its company is kept", async () => {
  const { archive, after } = await withCampaign();
  const lost: Edit = { cell: { table, row: 99, column: "note", text: "" } };
  await expect(editCampaign(archive, id, { after, edits: [...edits, lost], why: "typed" })).rejects.toMatchObject({
    ...{ fault: "invalid", message: "The table separation has no row 100. Choose one of its 4." },
  });
  expect((await campaignAt(archive, id)).campaign).toEqual(sampleCampaign());
});

test("KEEP-4: edits that change nothing make no revision", async () => {
  const { archive, after } = await withCampaign();
  const same: Edit = { descriptor: sampleCampaign().descriptor };
  expect((await editCampaign(archive, id, { after, edits: [same], why: "same", key })).revision).toBe(after);
});

test("KEEP-12: edits are taken back as any change is", async () => {
  const { archive, after } = await withCampaign();
  const { revision } = await editCampaign(archive, id, { after, edits, why: "misread" });
  expect((await undo(archive, id, { after: revision, why: "it was right" })).campaign).toEqual(sampleCampaign());
});

test("KEEP-10: another fibre in an edited descriptor is registered", async () => {
  const { archive, after } = await withCampaign();
  const { descriptor } = sampleCampaign("invented-fields", "F-9");
  await editCampaign(archive, id, { after, edits: [{ descriptor }], why: "it was F-9" });
  expect((await identities(archive, "fibre")).map(({ id: fibre }) => fibre)).toEqual(["F-1", "F-9"]);
  expect((await listCampaigns(archive))[0]!.fibre).toBe("F-9");
});

test("KEEP-13: a change sent again under its key is made once, and answered as the first time", async () => {
  const { archive, after } = await withCampaign();
  const first = await editCampaign(archive, id, { after, edits, why: "misread", key });
  const reading = { table: "background", cells, why: "console", key: `${key}b` };
  const added = await addReading(archive, id, reading);
  expect(await editCampaign(archive, id, { after, edits, why: "misread", key })).toEqual(first);
  expect(await addReading(archive, id, reading)).toEqual(added);
  expect(await historyOf(archive, "campaign", id)).toHaveLength(3);
  expect((await audit(archive)).faults).toEqual([]);
});

test("KEEP-13: the same reading under another key is a second reading, and refused as one", async () => {
  const { archive } = await withCampaign();
  await addReading(archive, id, { table: "background", cells, why: "console", key });
  const again = addReading(archive, id, { table: "background", cells, why: "console", key: `${key}b` });
  await expect(again).rejects.toThrow(/has a reading b2 already/);
});

test("KEEP-13: a key that comes with another body, reason, campaign or person is refused", async () => {
  const { archive, after } = await withCampaign();
  const other = await keepCampaign(archive, sampleCampaign("other"), "import");
  await editCampaign(archive, id, { after, edits, why: "misread", key });
  const refused = { fault: "key-reused" };
  const more: Edit[] = [...edits, { cell: { table, row: 0, column: "note", text: "x" } }];
  await expect(editCampaign(archive, id, { after, edits: more, why: "misread", key })).rejects.toMatchObject(refused);
  await expect(editCampaign(archive, id, { after, edits, why: "other", key })).rejects.toMatchObject(refused);
  const there = editCampaign(archive, "other", { after: other.revision, edits, why: "misread", key });
  await expect(there).rejects.toMatchObject(refused);
  const by = editCampaign({ ...archive, who: "S. Second" }, id, { after, edits, why: "misread", key });
  await expect(by).rejects.toMatchObject(refused);
  await expect(addReading(archive, id, { table: "background", cells, why: "misread", key })).rejects.toMatchObject(
    refused,
  );
});

test("KEEP-13: of two that are sent at once under one key, one is made", async () => {
  const { archive, after } = await withCampaign();
  const both = await Promise.all(
    [1, 2].map(async () => editCampaign(archive, id, { after, edits, why: "misread", key })),
  );
  expect(both[0]).toEqual(both[1]);
  expect(await historyOf(archive, "campaign", id)).toHaveLength(2);
});

test("KEEP-14: after two hundred small changes the next holds the whole document as well, and its key counts as ever", async () => {
  const { archive, after } = await withCampaign();
  archive.file.rows("PRAGMA synchronous = OFF"); // hundreds of revisions need not reach the disk
  let latest = after;
  const edit = async (i: number, from: number) =>
    editCampaign(archive, id, {
      ...{ after: from, why: "typed", key: `${key}-${i}` },
      edits: [{ cell: { table, row: i % 4, column: "note", text: `note ${i}` } }],
    });
  for (let i = 0; i < 200; i++) latest = (await edit(i, latest)).revision;
  const small = await campaignAt(archive, id);
  expect(small.base).toBe(after);
  const whole = await edit(200, latest);
  expect(whole.base).toBe(whole.revision);
  expect(whole.campaign.tables[table]!.rows.map((row) => row.at(-1))).toEqual(
    [200, 197, 198, 199].map((i) => `note ${i}`),
  );
  expect(await campaignAt(archive, id)).toEqual(whole);
  expect(await edit(200, latest)).toEqual(whole);
  expect((await edit(201, whole.revision)).base).toBe(whole.revision);
  expect((await campaignAt(archive, id, latest)).campaign).toEqual(small.campaign);
  expect((await audit(archive)).faults).toEqual([]);
});
