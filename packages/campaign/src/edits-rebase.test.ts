import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Campaign } from "./campaign.ts";
import { applyEdits, type Edit } from "./edits.ts";
import { rebase } from "./edits-rebase.ts";
import { editsTo } from "./testing/edit-arbitrary.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const base = sampleCampaign();
const table = "separation";
const { columns, rows } = base.tables[table]!;
const named = (name: string, text = "7"): string[] => columns.map((column) => (column === "reading" ? name : text));
const cell = (row: number, column: string, text: string): Edit => ({ cell: { table, row, column, text } });
const [nameOf, blue] = [
  (row: number) => rows[row]![columns.indexOf("reading")]!,
  columns.find((c) => c.startsWith("signal_"))!,
];

function both(mine: Edit[], theirs: Edit[]) {
  const there = applyEdits(base, theirs);
  const { edits, conflicts } = rebase(base, mine, there);
  return { merged: applyEdits(there, edits), conflicts, edits };
}
const rowNamed = (campaign: Campaign, name: string) => {
  const { columns: header, rows: all } = campaign.tables[table]!;
  const row = all.find((cells) => cells[header.indexOf("reading")] === name);
  return row && Object.fromEntries(header.map((column, i) => [column, row[i]!]));
};

describe("changes to different places", () => {
  test("two cells of different rows both stay, whatever rows were put in above", () => {
    const { merged, conflicts } = both(
      [cell(2, blue, "1.11")],
      [{ insert: { table, at: 0, rows: [named("new")] } }, cell(1, blue, "2.22")],
    );
    expect(conflicts).toEqual([]);
    expect(rowNamed(merged, nameOf(2))![blue]).toBe("1.11");
    expect(rowNamed(merged, nameOf(0))![blue]).toBe("2.22");
    expect(merged.tables[table]!.rows).toHaveLength(rows.length + 1);
  });

  test("property: cells that only one side changed are as that side left them", () => {
    const place = fc.tuple(fc.nat(rows.length - 1), fc.constantFrom(...columns.filter((name) => name !== "reading")));
    const block = fc.uniqueArray(place, { selector: String, minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(block, fc.nat(12), fc.nat(rows.length), fc.boolean(), (places, at, where, above) => {
        const [here, there] = [places.slice(0, at), places.slice(at)];
        const insert: Edit = { insert: { table, at: where, rows: [named("theirs")] } };
        const shift = (row: number) => (above && row >= where ? row + 1 : row);
        const theirs = [
          ...(above ? [insert] : []),
          ...there.map(([row, column]) => cell(shift(row), column, "theirs")),
        ];
        const { merged, conflicts } = both(
          here.map(([row, column]) => cell(row, column, "mine")),
          theirs,
        );
        expect(conflicts).toEqual([]);
        for (const [row, name] of rows.map((_, i) => [i, nameOf(i)] as const)) {
          const got = rowNamed(merged, name)!;
          for (const [i, column] of columns.entries()) {
            const is = (list: typeof places) => list.some(([r, c]) => r === row && c === column);
            expect(got[column]).toBe(is(here) ? "mine" : is(there) ? "theirs" : rows[row]![i]);
          }
        }
        expect(rowNamed(merged, "theirs") !== undefined).toBe(above);
      }),
    );
  });

  test("property: to a campaign that nobody else changed, the edits are those that were made", () => {
    fc.assert(
      fc.property(editsTo(base), (mine) => {
        expect(rebase(base, mine, base)).toEqual({ edits: mine, conflicts: [] });
      }),
    );
  });

  test("property: whatever both did, the edits fit, and without a conflict all of mine is in it", () => {
    fc.assert(
      fc.property(editsTo(base), editsTo(base), (mine, theirs) => {
        const { merged, conflicts } = both([...mine], [...theirs]);
        const wanted = applyEdits(base, mine);
        if (conflicts.length > 0) return;
        for (const [name, now] of Object.entries(wanted.tables)) {
          const before = base.tables[name];
          if (JSON.stringify(before) === JSON.stringify(now)) continue;
          const texts = JSON.stringify(merged.tables[name]);
          const typed = new Set((before?.rows ?? []).flat());
          for (const text of now.rows.flat())
            if (!typed.has(text)) expect(texts).toContain(JSON.stringify(text).slice(1, -1));
        }
      }),
      { numRuns: 300 },
    );
  });

  test("readings that both added stand one behind the other, theirs first", () => {
    const end = rows.length;
    const { merged, conflicts } = both(
      [{ insert: { table, at: end, rows: [named("a1"), named("a2")] } }],
      [{ insert: { table, at: end, rows: [named("z1")] } }],
    );
    expect(conflicts).toEqual([]);
    expect(merged.tables[table]!.rows.slice(end).map((row) => row[columns.indexOf("reading")])).toEqual([
      "z1",
      "a1",
      "a2",
    ]);
  });

  test("a reading that I put in between stays behind the one before it", () => {
    const { merged } = both(
      [{ insert: { table, at: 1, rows: [named("mid")] } }],
      [cell(0, blue, "9"), { insert: { table, at: 0, rows: [named("top")] } }],
    );
    expect(merged.tables[table]!.rows.slice(0, 3).map((row) => row[columns.indexOf("reading")])).toEqual([
      "top",
      nameOf(0),
      "mid",
    ]);
  });

  test("a reading that I took out is taken out where it stands now", () => {
    const { merged, conflicts } = both(
      [{ remove: { table, at: 1, count: 1 } }],
      [{ insert: { table, at: 0, rows: [named("top")] } }],
    );
    expect(conflicts).toEqual([]);
    expect(rowNamed(merged, nameOf(1))).toBeUndefined();
    expect(merged.tables[table]!.rows).toHaveLength(rows.length);
  });

  test("a column that both added holds what both typed into it", () => {
    const { merged, conflicts } = both([cell(0, "weather", "dry")], [cell(1, "weather", "wet")]);
    expect(conflicts).toEqual([]);
    expect([0, 1].map((row) => rowNamed(merged, nameOf(row))!["weather"])).toEqual(["dry", "wet"]);
    const alone = both([cell(1, "weather", "dry")], [cell(0, blue, "9")]);
    expect(rowNamed(alone.merged, nameOf(1))!["weather"]).toBe("dry");
  });

  test("a reading that they renamed is the same reading still", () => {
    const { merged, conflicts } = both([cell(1, blue, "5.55")], [cell(1, "reading", "renamed"), cell(0, blue, "1")]);
    expect(conflicts).toEqual([]);
    expect(rowNamed(merged, "renamed")![blue]).toBe("5.55");
  });

  test("descriptors are merged key by key, resources by their names", () => {
    const mine = { ...base.descriptor, title: "mine" };
    const [first, ...others] = base.descriptor.resources;
    const theirs = { ...base.descriptor, resources: [{ ...first!, title: "theirs" }, ...others] };
    const { merged, conflicts } = both([{ descriptor: mine }], [{ descriptor: theirs }]);
    expect(conflicts).toEqual([]);
    expect(merged.descriptor).toEqual({ ...theirs, title: "mine" });
  });
});

describe("changes to the same place", () => {
  test("two texts in one cell are told, and theirs stays", () => {
    const { merged, conflicts } = both([cell(1, blue, "1.11"), cell(0, blue, "3")], [cell(1, blue, "2.22")]);
    const was = rows[1]![columns.indexOf(blue)]!;
    expect(conflicts).toEqual([{ table, reading: nameOf(1), column: blue, base: was, mine: "1.11", theirs: "2.22" }]);
    expect(rowNamed(merged, nameOf(1))![blue]).toBe("2.22");
    expect(rowNamed(merged, nameOf(0))![blue]).toBe("3");
  });

  test("the same text from both is no conflict", () => {
    expect(both([cell(1, blue, "1.11")], [cell(1, blue, "1.11"), cell(0, blue, "2")]).conflicts).toEqual([]);
  });

  test("a cell of a reading that they took out is told, without a text of theirs", () => {
    const { conflicts, edits } = both([cell(1, blue, "1.11")], [{ remove: { table, at: 1, count: 1 } }]);
    expect(conflicts).toEqual([
      { table, reading: nameOf(1), column: blue, base: rows[1]![columns.indexOf(blue)]!, mine: "1.11" },
    ]);
    expect(edits).toEqual([]);
  });

  test("a reading that I took out and they changed stays, and is told without a text of mine", () => {
    const { merged, conflicts } = both([{ remove: { table, at: 1, count: 1 } }], [cell(1, blue, "2.22")]);
    expect(conflicts).toMatchObject([{ reading: nameOf(1), column: blue, theirs: "2.22" }]);
    expect(conflicts[0]).not.toHaveProperty("mine");
    expect(rowNamed(merged, nameOf(1))![blue]).toBe("2.22");
  });

  test("two readings of one name, both new, are told where they differ, and are one where they do not", () => {
    const mine: Edit[] = [{ insert: { table, at: rows.length, rows: [named("n", "1")] } }];
    const other = both(mine, [{ insert: { table, at: 0, rows: [named("n", "2")] } }]);
    expect(other.conflicts).toHaveLength(columns.length - 1);
    expect(other.conflicts[0]).toMatchObject({ reading: "n", mine: "1", theirs: "2" });
    const same = both(mine, [{ insert: { table, at: 0, rows: [named("n", "1")] } }]);
    expect(same).toMatchObject({ conflicts: [], edits: [] });
  });

  test("a table that one side took out and the other changed is told whole", () => {
    expect(both([{ put: { name: table } }], [cell(0, blue, "9")]).conflicts).toMatchObject([
      { table, reading: "", column: "", theirs: expect.stringContaining("rows") as unknown },
    ]);
    expect(both([cell(0, blue, "9")], [{ put: { name: table } }]).conflicts[0]).not.toHaveProperty("theirs");
  });

  test("a table that they wrote with another decimal sign is told whole: my texts would mean something else", () => {
    const comma = { ...base.tables[table]!, decimal: base.tables[table]!.decimal === "." ? "," : "." } as const;
    const { conflicts, edits } = both([cell(0, blue, "9")], [{ put: { name: table, table: comma } }]);
    expect(conflicts).toMatchObject([{ table, reading: "", column: "" }]);
    expect(edits).toEqual([]);
  });

  test("one key of the descriptor with two values is told", () => {
    const { merged, conflicts } = both(
      [{ descriptor: { ...base.descriptor, title: "mine" } }],
      [{ descriptor: { ...base.descriptor, title: "theirs" } }],
    );
    expect(conflicts).toMatchObject([
      { table: "datapackage.json", reading: "", column: "title", mine: '"mine"', theirs: '"theirs"' },
    ]);
    expect(merged.descriptor["title"]).toBe("theirs");
  });
});

test("rows without names are matched by what they hold, and by place where nothing else changed around them", () => {
  const nameless = { path: "set.csv", decimal: ".", columns: ["source", "output_factor"], lines: [2, 3, 4] } as const;
  const was = {
    ...base,
    tables: {
      set: {
        ...nameless,
        rows: [
          ["a", "0.9"],
          ["b", "0.8"],
          ["c", "0.7"],
        ],
      },
    },
  };
  const mine: Edit[] = [{ cell: { table: "set", row: 2, column: "output_factor", text: "0.71" } }];
  const above: Edit[] = [{ insert: { table: "set", at: 0, rows: [["z", "1"]] } }];
  const there = applyEdits(was, above);
  expect(applyEdits(there, rebase(was, mine, there).edits).tables["set"]!.rows.at(-1)).toEqual(["c", "0.71"]);
  const beside = applyEdits(was, [{ cell: { table: "set", row: 2, column: "source", text: "C" } }]);
  expect(applyEdits(beside, rebase(was, mine, beside).edits).tables["set"]!.rows[2]).toEqual(["C", "0.71"]);
  const same = applyEdits(was, [{ cell: { table: "set", row: 2, column: "output_factor", text: "0.72" } }]);
  expect(rebase(was, mine, same).conflicts).toMatchObject([
    { table: "set", reading: "row 3", mine: "0.71", theirs: "0.72" },
  ]);
});
