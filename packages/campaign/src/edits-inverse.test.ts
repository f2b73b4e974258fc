import fc from "fast-check";
import { expect, test } from "vitest";
import { applyEdits, type Edit } from "./edits.ts";
import { inverseOf } from "./edits-inverse.ts";
import { editsTo } from "./testing/edit-arbitrary.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const campaign = sampleCampaign();
const table = "background";
const back = (...edits: Edit[]) => applyEdits(applyEdits(campaign, edits), inverseOf(campaign, edits));

test("whatever the edits, their inverse gives the same bytes back", () => {
  fc.assert(
    fc.property(editsTo(campaign), (edits) => {
      expect(JSON.stringify(back(...edits))).toBe(JSON.stringify(campaign));
    }),
    { numRuns: 300 },
  );
});

test("the inverse of an inverse does the edits again", () => {
  fc.assert(
    fc.property(editsTo(campaign), (edits) => {
      const after = applyEdits(campaign, edits);
      const undo = inverseOf(campaign, edits);
      expect(JSON.stringify(applyEdits(campaign, inverseOf(after, undo)))).toBe(JSON.stringify(after));
    }),
  );
});

test("cells and rows are taken back by cells and rows, not by whole tables", () => {
  const { columns, rows } = campaign.tables[table]!;
  const edits: Edit[] = [
    { cell: { table, row: 0, column: columns[1]!, text: "a" } },
    { cell: { table, row: 0, column: columns[1]!, text: "b" } },
    { insert: { table, at: 1, rows: [rows[0]!] } },
  ];
  expect(inverseOf(campaign, edits)).toEqual([
    { remove: { table, at: 1, count: 1 } },
    { cell: { table, row: 0, column: columns[1]!, text: rows[0]![1]! } },
  ]);
});

test("a table taken out comes back to its place, and rows to their lines", () => {
  const first = Object.keys(campaign.tables)[0]!;
  expect(Object.keys(back({ put: { name: first } }).tables)).toEqual(Object.keys(campaign.tables));
  const spread = applyEdits(campaign, [
    {
      put: {
        name: table,
        table: { ...campaign.tables[table]!, lines: campaign.tables[table]!.rows.map((_, i) => 5 * i) },
      },
    },
  ]);
  const edits: Edit[] = [{ remove: { table, at: 0, count: 2 } }];
  expect(applyEdits(applyEdits(spread, edits), inverseOf(spread, edits))).toEqual(spread);
});
