import fc from "fast-check";
import { expect, test } from "vitest";
import { applyEdits, type Edit, EditError } from "./edits.ts";
import { editsTo } from "./testing/edit-arbitrary.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const campaign = sampleCampaign();
const table = "background";
const now = campaign.tables[table]!;
const after = (...edits: Edit[]) => applyEdits(campaign, edits).tables[table]!;

test("a cell gets another text, as typed, and nothing else changes", () => {
  const column = now.columns[2]!;
  const changed = after({ cell: { table, row: 0, column, text: " 6,50 " } });
  expect(changed.rows[0]![2]).toBe(" 6,50 ");
  expect({ ...changed, rows: now.rows }).toEqual(now);
  expect(changed.rows.slice(1)).toEqual(now.rows.slice(1));
});

test("a column is found by its header as typed, or without the blanks around it", () => {
  const columns = now.columns.map((name, i) => (i === 0 ? ` ${name} ` : name));
  const typed = applyEdits(campaign, [{ put: { name: table, table: { ...now, columns } } }]);
  for (const column of [now.columns[0]!, columns[0]!]) {
    const { tables } = applyEdits(typed, [{ cell: { table, row: 0, column, text: "x" } }]);
    expect(tables[table]!.columns).toEqual(columns);
    expect(tables[table]!.rows[0]![0]).toBe("x");
  }
});

test("a column that the table lacks stands behind the others, empty but for the cell", () => {
  const wide = after({ cell: { table, row: 1, column: "note", text: "door" } });
  expect(wide.columns).toEqual([...now.columns, "note"]);
  expect(wide.rows.map((row) => row.at(-1))).toEqual(now.rows.map((_, i) => (i === 1 ? "door" : "")));
});

test("rows are put in and taken out, and the lines of later ones move with them", () => {
  const row = now.columns.map(() => "new");
  const longer = after({ insert: { table, at: 1, rows: [row, row] } });
  expect(longer.rows).toEqual([now.rows[0], row, row, ...now.rows.slice(1)]);
  expect(longer.lines).toEqual([...now.lines, now.lines.at(-1)! + 1, now.lines.at(-1)! + 2]);
  expect(after({ remove: { table, at: 0, count: 1 } }).rows).toEqual(now.rows.slice(1));
});

test("a table is put in, replaced and taken out; the descriptor is replaced", () => {
  const put = applyEdits(campaign, [{ put: { name: "more", table: now } }, { put: { name: table } }]);
  expect(Object.keys(put.tables)).toEqual([...Object.keys(campaign.tables).filter((name) => name !== table), "more"]);
  const descriptor = { ...campaign.descriptor, title: "another" };
  expect(applyEdits(campaign, [{ descriptor }]).descriptor).toBe(descriptor);
});

test("a pasted block copies its table once: ten thousand cells are no matter of seconds", () => {
  const rows = Array.from({ length: 10_000 }, (_, i) => now.columns.map(() => String(i)));
  const big = applyEdits(campaign, [{ insert: { table, at: 0, rows } }]);
  const edits = rows.map((_, row): Edit => ({ cell: { table, row, column: now.columns[0]!, text: `b${row}` } }));
  const changed = applyEdits(big, edits).tables[table]!;
  expect(changed.rows.slice(0, 10_000).map(([name]) => name)).toEqual(rows.map((_, i) => `b${i}`));
});

const fits = now.columns.map(() => "");
test.each<[string, Edit, RegExp]>([
  [
    "a table that is not there",
    { cell: { table: "scan", row: 0, column: "a", text: "" } },
    /no table scan. Its tables are/,
  ],
  ["a table of the language's own", { put: { name: "constructor" } }, /no table constructor/],
  ["a row that is not there", { cell: { table, row: now.rows.length, column: "a", text: "" } }, /no row/],
  ["half a row", { cell: { table, row: 0.5, column: "a", text: "" } }, /no row/],
  ["a column without a name", { cell: { table, row: 0, column: " ", text: "" } }, /has no name/],
  ["half a character", { cell: { table, row: 0, column: "a", text: "\ud800" } }, /lone surrogate/],
  ["a carriage return", { insert: { table, at: 0, rows: [[...fits.slice(1), "a\r\nb"]] } }, /carriage return/],
  ["a zero character", { cell: { table, row: 0, column: "a", text: "\u0000" } }, /zero character/],
  ["a row that is too short", { insert: { table, at: 0, rows: [fits.slice(1)] } }, /cells, and the table/],
  ["an insertion behind the end", { insert: { table, at: now.rows.length + 1, rows: [fits] } }, /no row/],
  ["more rows taken out than there are", { remove: { table, at: 0, count: now.rows.length + 1 } }, /no row/],
  [
    "a table with a row too short",
    { put: { name: "x", table: { ...now, rows: [[]], lines: [2] } } },
    /cells, and the table/,
  ],
  ["a table with too few line numbers", { put: { name: "x", table: { ...now, lines: [] } } }, /line number/],
])("%s is refused with what to do", (_, edit, message) => {
  expect(() => applyEdits(campaign, [edit])).toThrow(message);
  expect(() => applyEdits(campaign, [edit])).toThrow(EditError);
});

test("the campaign that is edited stays as it was", () => {
  const before = JSON.stringify(campaign);
  fc.assert(
    fc.property(editsTo(campaign), (edits) => {
      applyEdits(campaign, edits);
      expect(JSON.stringify(campaign)).toBe(before);
    }),
  );
});

test("edits in one go are the edits one by one", () => {
  fc.assert(
    fc.property(editsTo(campaign), (edits) => {
      let each = campaign;
      for (const edit of edits) each = applyEdits(each, [edit]);
      expect(JSON.stringify(applyEdits(campaign, edits))).toBe(JSON.stringify(each));
    }),
  );
});
