import { applyEdits, type Campaign, columnAt, evaluate, type StageId, type Table } from "@alcedo-dosimetry/campaign";
import { simulate, standardLaboratory, withRepeats } from "@alcedo-dosimetry/simulator";
import { describe, expect, test } from "vitest";
import {
  carriedOver,
  cellEdits,
  entryFields,
  isoMoment,
  nextReadingName,
  placeOf,
  readingEdits,
  tableOf,
} from "./next-reading.ts";

const { campaign } = simulate(withRepeats(standardLaboratory(), 2), 1);
const tableWith = (names: readonly string[], columns = ["reading"]): Table => ({
  ...{ path: "x.csv", decimal: ".", columns },
  rows: names.map((name) => [name]),
  lines: names.map((_, k) => k + 2),
});
const cellOf = (of: Campaign, series: StageId, reading: string, column: string) => {
  const { table } = tableOf(of, series)!;
  return table.rows[placeOf(of, series, reading)!.row]![columnAt(table.columns, column)];
};

describe("the name of the next reading", () => {
  test.each([
    [["r001", "r002"], "r003"],
    [["r099"], "r100"],
    [["r1", "r9"], "r10"],
    [["10x10-2"], "10x10-3"],
    [["r002", "r003", "r001"], "r004"],
    [["first"], "first-2"],
    [[], "r001"],
    [["r001", "", " "], "r002"],
  ])("after %j is %s", (names, expected) => expect(nextReadingName(tableWith(names))).toBe(expected));
});

describe("what is typed anew", () => {
  test("are the channels, and the monitor where the table has one", () => {
    expect(entryFields(campaign, "separation").map(({ column, channel }) => [column, channel])).toEqual([
      ["signal_blue", 0],
      ["signal_green", 1],
      ["monitor", undefined],
    ]);
    expect(entryFields(campaign, "background").map(({ name }) => name)).toEqual(["blue", "green"]);
    expect(entryFields(campaign, "separation")[0]!.unit).toBe("nC");
  });
});

describe("what is taken over", () => {
  test("is the set-up of the condition's last reading, the temperature that of the table's", () => {
    const short = { series: "separation", condition: "short" } as const;
    const warmer = applyEdits(campaign, cellEdits(campaign, "separation", "s008", { temperature_C: "23.4" }));
    const carried = carriedOver(warmer, short);
    expect(carried.get("dose_group")).toBe("100x100");
    expect(carried.get("role")).toBe("fit");
    expect(carried.get("fibre_mm")).toBe("50");
    expect(carried.get("mu")).toBe("200");
    expect(carried.get("temperature_C")).toBe("23.4");
  });

  test("is nothing that belongs to one reading: no signal, no time, no reason, no note", () => {
    const keys = [...carriedOver(campaign, { series: "separation", condition: "short" }).keys()];
    for (const own of ["reading", "condition", "time", "signal_blue", "signal_green", "monitor", "note", "exclude"])
      expect(keys).not.toContain(own);
  });

  test("is next to nothing for a condition that is new", () => {
    const carried = carriedOver(campaign, { series: "separation", condition: "new" });
    expect([...carried.keys()]).toEqual(["temperature_C"]);
  });
});

describe("a reading that is added", () => {
  const at = { series: "output-factors", condition: "cone-5" } as const;
  const typed = new Map([
    ["signal_blue", "3.270"],
    ["signal_green", "1.260"],
    ["monitor", "12.34"],
  ]);
  const { name, edits } = readingEdits(campaign, { at, typed, time: "2026-03-12T23:14:05+01:00" });
  const after = applyEdits(campaign, edits);

  test("stands at the end of its table, its cells as typed, its set-up as before", () => {
    const { table } = tableOf(after, "output-factors")!;
    expect(table.rows).toHaveLength(tableOf(campaign, "output-factors")!.table.rows.length + 1);
    expect(placeOf(after, "output-factors", name)!.row).toBe(table.rows.length - 1);
    expect(cellOf(after, "output-factors", name, "signal_blue")).toBe("3.270");
    expect(cellOf(after, "output-factors", name, "time")).toBe("2026-03-12T23:14:05+01:00");
    expect(cellOf(after, "output-factors", name, "diameter_mm")).toBe("5");
    expect(cellOf(after, "output-factors", name, "role")).toBe("field");
  });

  test("is a reading like the others: the campaign is evaluated with it", () => {
    const { result } = evaluate(after);
    expect(result.findings.filter(({ level }) => level === "error")).toEqual([]);
    expect(result.input).not.toBe(evaluate(campaign).result.input);
  });

  test("takes a set-up that is not as before", () => {
    const other = readingEdits(campaign, { at, typed, time: "t", setUp: new Map([["mu", "400"]]) });
    expect(cellOf(applyEdits(campaign, other.edits), "output-factors", other.name, "mu")).toBe("400");
  });

  test("goes under headers with blanks about them", () => {
    const { table, name: tableName } = tableOf(campaign, "output-factors")!;
    const columns = table.columns.map((column) => (column === "signal_blue" ? " signal_blue " : column));
    const worded = { ...campaign, tables: { ...campaign.tables, [tableName]: { ...table, columns } } };
    const added = readingEdits(worded, { at, typed, time: "t" });
    expect(cellOf(applyEdits(worded, added.edits), "output-factors", added.name, "signal_blue")).toBe("3.270");
  });

  test("makes the columns that a new table lacks", () => {
    const { name: tableName, table } = tableOf(campaign, "output-factors")!;
    const bare = { ...table, columns: ["reading", "condition"], rows: [], lines: [] };
    const fresh = { ...campaign, tables: { ...campaign.tables, [tableName]: bare } };
    const first = readingEdits(fresh, { at, typed, time: "t", setUp: new Map([["role", "field"]]) });
    const made = applyEdits(fresh, first.edits);
    expect(first.name).toBe("r001");
    expect(made.tables[tableName]!.columns).toEqual([
      ...["reading", "condition", "role", "signal_blue", "signal_green", "monitor"],
    ]);
    expect(cellOf(made, "output-factors", "r001", "signal_green")).toBe("1.260");
    expect(cellOf(made, "output-factors", "r001", "role")).toBe("field");
  });

  test("has no place in a campaign without that table", () => {
    expect(() => readingEdits({ ...campaign, tables: {} }, { at, typed, time: "t" })).toThrow(
      "no table for output-factors",
    );
  });
});

describe("a cell of a reading", () => {
  test("is found by the reading's name; a column that is not there is made", () => {
    const edits = cellEdits(campaign, "separation", "s002", { exclude: "beam stopped", excluded_by: "j.doe" });
    const after = applyEdits(campaign, edits);
    expect(cellOf(after, "separation", "s002", "exclude")).toBe("beam stopped");
    expect(cellOf(after, "separation", "s002", "excluded_by")).toBe("j.doe");
    expect(cellOf(after, "separation", "s001", "exclude")).toBe("");
  });

  test("of a reading that is not there is refused by its name", () => {
    expect(() => cellEdits(campaign, "separation", "x9", { note: "n" })).toThrow("no reading x9 in separation");
  });
});

test("the moment is written as tables write it, and read back to the same second", () => {
  const date = new Date(2026, 2, 12, 23, 4, 5);
  const text = isoMoment(date);
  expect(text).toMatch(/^2026-03-12T23:04:05[+-]\d\d:\d\d$/);
  expect(Date.parse(text)).toBe(date.getTime());
});
