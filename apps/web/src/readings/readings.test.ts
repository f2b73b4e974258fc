import { applyEdits, type Campaign, type Table } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { columnsToAdd, gridColumns, isOfOneDay, shownCell } from "./grid-columns.ts";
import { blockChange, cellChange, columnChange, excludeChange, fillChange, isWhole, typedText } from "./grid-edits.ts";

const table: Table = {
  path: "output-factors.csv",
  decimal: ".",
  columns: ["reading", "condition", "time", "mu", "signal_blue", "signal_green", "role", "x_mm", "own remark"],
  rows: [
    ["r001", "10x10", "2026-03-12T20:51:07+01:00", "200", "7.1", "2.2", "field", "10", "a"],
    ["r002", "10x10", "2026-03-12T20:51:55+01:00", "200", "7.2", "2.3", "field", "10", ""],
  ],
  lines: [2, 3],
};
const name = "output-factors";
const columns = gridColumns(table, "output-factors", ["blue", "green"], "nC");
const column = (typed: string) => columns.find((own) => own.typed === typed)!;
const campaign: Campaign = { descriptor: {} as Campaign["descriptor"], tables: { [name]: table } };
const after = (change: { edits: Parameters<typeof applyEdits>[1] } | undefined) =>
  applyEdits(campaign, change!.edits).tables[name]!;

describe("the columns of a grid", () => {
  test("have what was read beside its name, with a heading, a unit and the channel that they belong to", () => {
    expect(columns.map(({ title, unit, channel, at }) => [title, unit, channel, at])).toEqual([
      ["reading", "", undefined, 0],
      ["condition", "", undefined, 1],
      ["blue", "nC", 1, 4],
      ["green", "nC", 2, 5],
      ["role", "", undefined, 6],
      ["x", "mm", undefined, 7],
      ["time", "", undefined, 2],
      ["MU", "", undefined, 3],
      ["own remark", "", undefined, 8],
    ]);
    expect(column("own remark").known).toBeUndefined();
  });

  test("that are lacking can be added", () => {
    const names = columnsToAdd(table, "output-factors", ["blue", "green"]).map((own) => own.name);
    expect(names).toContain("fwhm_x_mm");
    expect(names).not.toContain("x_mm");
  });

  test("show times without the day where all are of one, numbers with the person's sign, all else as typed", () => {
    const comma = (text: string) => text.replace(".", ",");
    expect(isOfOneDay(table)).toBe(true);
    const [row] = table.rows;
    expect(columns.map((own) => shownCell(row![own.at]!, own, true, comma))).toEqual([
      ...["r001", "10x10", "7,1", "2,2", "field", "10", "20:51:07", "200", "a"],
    ]);
    expect(shownCell(row![2]!, column("time"), false, comma)).toBe("03-12 20:51:07");
    expect(shownCell("soon", column("time"), true, comma)).toBe("soon");
    const two = { ...table, rows: [...table.rows, table.rows[0]!.with(2, "2026-03-13T00:01:00+01:00")] };
    expect(isOfOneDay(two)).toBe(false);
  });
});

describe("typing", () => {
  test("a number takes the table's sign, words stay; results may follow once it is a whole number", () => {
    expect(typedText("7,25", column("signal_blue"), ".")).toBe("7.25");
    expect(typedText(" door, open ", column("own remark"), ".")).toBe("door, open");
    expect(["7", "7.", "7.2", "", "-", "7e"].map((text) => isWhole(text, column("signal_blue"), "."))).toEqual([
      ...[true, true, true, false, false, false],
    ]);
    expect(isWhole("10", column("condition"), ".")).toBe(false);
  });

  test("changes one cell, and says from what to what", () => {
    const change = cellChange(name, table, { row: 1, column: column("signal_blue") }, "7.3");
    expect(change!.why).toBe("output-factors, r002, blue: 7.2 → 7.3");
    expect(after(change).rows[1]![4]).toBe("7.3");
    expect(after(change).rows[0]).toBe(table.rows[0]);
  });

  test("the same text again is no change, and nothing in the empty row is no row", () => {
    expect(cellChange(name, table, { row: 1, column: column("signal_blue") }, "7.2")).toBeUndefined();
    expect(cellChange(name, table, { row: 2, column: column("signal_blue") }, "")).toBeUndefined();
  });

  test("in the row behind the last makes a reading, numbered on, under the condition before it", () => {
    const change = cellChange(name, table, { row: 2, column: column("signal_blue") }, "7.4");
    expect(after(change).rows[2]).toEqual(["r003", "10x10", "", "200", "7.4", "", "field", "10", ""]);
    expect(change!.why).toBe("output-factors: reading r003 added");
  });

  test("of another condition begins without what described the one before", () => {
    const change = cellChange(name, table, { row: 2, column: column("condition") }, "cone-5");
    expect(after(change).rows[2]).toEqual(["r003", "cone-5", "", "", "", "", "", "", ""]);
  });
});

describe("filling down", () => {
  test("puts the cell into those beneath it", () => {
    const change = fillChange(name, table, column("x_mm"), 0, 1);
    expect(change).toBeUndefined();
    expect(after(fillChange(name, table, column("own remark"), 0, 5)).rows.map((row) => row[8])).toEqual(["a", "a"]);
  });

  test("from nowhere does nothing", () => expect(fillChange(name, table, column("x_mm"), 9, 10)).toBeUndefined());
});

describe("a block without a header", () => {
  test("goes in from the cell on, with decimal commas turned, and adds the rows that are lacking", () => {
    const cells = [
      ["7,30", "2,30"],
      ["7,40", "2,40"],
    ];
    const change = blockChange(name, table, columns, { row: 1, column: column("signal_blue") }, cells, ",");
    const { rows } = after(change);
    expect(rows.map((row) => [row[0], row[1], row[4], row[5]])).toEqual([
      ["r001", "10x10", "7.1", "2.2"],
      ["r002", "10x10", "7.30", "2.30"],
      ["r003", "10x10", "7.40", "2.40"],
    ]);
    expect(change!.why).toBe("output-factors: block of 2 × 2 cells pasted");
  });

  test("numbers each of its new rows anew, unless it names them", () => {
    const rows = [["1"], ["2"], ["3"]];
    const change = blockChange(name, table, columns, { row: 2, column: column("signal_blue") }, rows, ".");
    expect(after(change).rows.map(([reading]) => reading)).toEqual(["r001", "r002", "r003", "r004", "r005"]);
    const named = blockChange(name, table, columns, { row: 2, column: column("reading") }, [["x1"], ["x2"]], ".");
    expect(after(named).rows.map(([reading]) => reading)).toEqual(["r001", "r002", "x1", "x2"]);
  });

  test("that is wider than the table from there on is refused, with what to do", () => {
    const wide = [["1", "2", "3"]];
    expect(() => blockChange(name, table, columns, { row: 0, column: column("mu") }, wide, ".")).toThrow(
      "The block is 3 columns wide, and from MU on the table has 2. Paste it further left",
    );
  });
});

describe("leaving out", () => {
  test("gives the reason and who; the reading stays", () => {
    const change = excludeChange(name, table, 1, " door opened ", "A. Physicist");
    const { columns: now, rows } = after(change);
    expect(now.slice(-2)).toEqual(["exclude", "excluded_by"]);
    expect(rows[1]!.slice(-2)).toEqual(["door opened", "A. Physicist"]);
    expect(rows[0]!.slice(-2)).toEqual(["", ""]);
    expect(change.why).toBe("output-factors: r002 left out: door opened");
  });

  test("is taken back by an empty reason", () => {
    const out = applyEdits(campaign, excludeChange(name, table, 1, "door", "A").edits).tables[name]!;
    const back = excludeChange(name, out, 1, "", "A");
    expect(back.why).toBe("output-factors: r002 taken in again");
    const { rows } = applyEdits({ ...campaign, tables: { [name]: out } }, back.edits).tables[name]!;
    expect(rows[1]!.slice(-2)).toEqual(["", ""]);
  });
});

test("a column can be added to a table with rows and to one without", () => {
  expect(after(columnChange(campaign, name, "note")).columns.at(-1)).toBe("note");
  const empty = { ...campaign, tables: { [name]: { ...table, rows: [], lines: [] } } };
  expect(applyEdits(empty, columnChange(empty, name, "note").edits).tables[name]!.columns.at(-1)).toBe("note");
});
