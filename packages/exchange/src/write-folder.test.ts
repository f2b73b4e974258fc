import { type Campaign, digest, type Table } from "@alcedo-dosimetry/campaign";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { memoryFolder } from "./folder-source.ts";
import { readFolder } from "./read-folder.ts";
import { sampleFolder } from "./testing/sample-folder.ts";
import { writeFolder } from "./write-folder.ts";

const text = (files: ReadonlyMap<string, Uint8Array>, path: string) => new TextDecoder().decode(files.get(path));
const reread = (files: ReadonlyMap<string, Uint8Array>) => readFolder(memoryFolder("written", files));
const sample = () => readFolder(sampleFolder()).campaign!;
const withTable = (campaign: Campaign, name: string, change: Partial<Table>): Campaign => ({
  ...campaign,
  tables: { ...campaign.tables, [name]: { ...campaign.tables[name]!, ...change } },
});

test("a folder is written with a descriptor that describes every column", () => {
  const files = writeFolder(sample());
  expect([...files.keys()]).toEqual(["datapackage.json", "separation.csv", "data/calibration.csv"]);
  expect(text(files, "data/calibration.csv")).toBe(
    "reading,condition,signal_blue,signal_green,dose_Gy,dose_u_percent\nc1,ref,6.500,3.500,1.00,0.7\n",
  );
  expect(text(files, "separation.csv")).toContain('s2,max,17.000,17.500,a,fit,"second loop, re-routed"\n');
  const json = JSON.parse(text(files, "datapackage.json")) as Campaign["descriptor"];
  expect(json.resources[1]).toMatchObject({
    name: "calibration",
    path: "data/calibration.csv",
    format: "csv",
    mediatype: "text/csv",
    encoding: "utf-8",
    dialect: { delimiter: "," },
    alcedo: { series: "calibration" },
  });
  expect(json.resources[1]?.schema?.fields?.map((field) => [field.name, field["type"]])).toEqual([
    ["reading", "string"],
    ["condition", "string"],
    ["signal_blue", "number"],
    ["signal_green", "number"],
    ["dose_Gy", "number"],
    ["dose_u_percent", "number"],
  ]);
});

test("decimal commas stay as typed, between semicolons", () => {
  const rows = [["c1", "ref", "6,500", "3,500", "1,00", "0,7"]];
  const files = writeFolder(withTable(sample(), "calibration", { decimal: ",", rows }));
  expect(text(files, "data/calibration.csv")).toContain("\nc1;ref;6,500;3,500;1,00;0,7\n");
  const { campaign, findings } = reread(files);
  expect(findings).toEqual([]);
  expect(campaign?.tables["calibration"]).toMatchObject({ decimal: ",", rows });
});

test("size and digest of the file that was read are not claimed for the one that is written", () => {
  const campaign = sample();
  Object.assign(campaign.descriptor.resources[0]!, { bytes: 1, hash: "00", title: "kept" });
  const json = JSON.parse(text(writeFolder(campaign), "datapackage.json")) as Campaign["descriptor"];
  expect(json.resources[0]).toMatchObject({ title: "kept" });
  expect(json.resources[0]).not.toHaveProperty("bytes");
  expect(json.resources[0]).not.toHaveProperty("hash");
});

test("the campaign that is written is not touched", () => {
  const campaign = sample();
  const before = JSON.stringify(campaign);
  writeFolder(campaign);
  expect(JSON.stringify(campaign)).toBe(before);
});

describe("a campaign that cannot be written whole is refused:", () => {
  test("a table without resource, a resource without table", () => {
    const { descriptor, tables } = sample();
    expect(() => writeFolder({ descriptor, tables: { ...tables, extra: tables["separation"]! } })).toThrow("extra");
    expect(() => writeFolder({ descriptor, tables: { separation: tables["separation"]! } })).toThrow("calibration");
  });

  test("a cell with a zero character, which would make the file look binary", () => {
    expect(() =>
      writeFolder(withTable(sample(), "calibration", { columns: ["a\u0000"], rows: [], lines: [] })),
    ).toThrow("zero character");
  });

  test("a cell that UTF-8 cannot carry", () => {
    expect(() => writeFolder(withTable(sample(), "calibration", { columns: ["\udc00"], rows: [], lines: [] }))).toThrow(
      "surrogate",
    );
  });
});

/** Cells of any text: delimiters, quotes, line breaks, blanks at the ends, signs of any kind, every alphabet. */
const cell = fc.oneof(
  fc.string({ unit: "grapheme", maxLength: 8 }).map((any) => any.replaceAll("\r", "").replaceAll("\u0000", "")),
  fc.string({ unit: fc.constantFrom(..." ,;\t\"\n'=.1-é\ufeff"), maxLength: 6 }),
  fc.constantFrom("6.500", "6,500", "1.234", "12,5", "NaN", ""),
);
/** Column names: any text that is not blank, since columns without name and content are left out. */
const name = cell.filter((any) => any.trim() !== "");
/** One number column at least, since a table without numbers has no decimal sign to keep. */
const anyTable = fc
  .tuple(fc.array(name, { maxLength: 4 }), fc.array(fc.array(cell, { minLength: 5, maxLength: 5 }), { maxLength: 5 }))
  .map(([names, rows]) => ({
    columns: [...names, "signal_blue"],
    rows: rows.map((row) => row.slice(0, names.length + 1)),
  }));

test("what is written is read as the same campaign, whatever the cells hold", () => {
  fc.assert(
    fc.property(anyTable, fc.constantFrom(".", ","), (table, decimal) => {
      const lines = table.rows.map((_, i) => i + 2);
      const campaign = withTable(sample(), "separation", { ...table, lines, decimal: decimal });
      const files = writeFolder(campaign);
      const { campaign: again, findings } = reread(files);
      expect(findings).toEqual([]);
      const { lines: _, ...written } = campaign.tables["separation"]!;
      expect(again?.tables["separation"]).toMatchObject(written);
      expect(digest(again!)).toBe(digest(campaign));
      expect([...writeFolder(again!)]).toEqual([...files]);
    }),
    { numRuns: 300 },
  );
});

describe("a characterisation from another day", () => {
  const known = { version: 1, note: "kept as it is, valid or not", covariance: [[1e-6, -8e-7]] };
  const withKnown = () => {
    const { descriptor, tables } = sample();
    const resources = [
      ...descriptor.resources.filter(({ alcedo }) => alcedo.series !== "separation"),
      { name: "known", path: "known.json", alcedo: { series: "characterisation" as const } },
    ];
    const kept = Object.fromEntries(Object.entries(tables).filter(([name]) => name !== "separation"));
    return { descriptor: { ...descriptor, resources }, tables: kept, characterisation: known };
  };

  test("is written as JSON beside the tables, and read back the same", () => {
    const files = writeFolder(withKnown());
    expect(JSON.parse(text(files, "known.json"))).toEqual(known);
    const { findings } = reread(files);
    // its faults are said with their file and key; nothing else stands in the way
    expect(findings.map(({ code, where }) => [code, where!.file])).toContainEqual(["key-unknown", "known.json"]);
    expect(new Set(findings.map(({ where }) => where!.file))).toEqual(new Set(["known.json"]));
  });

  test("that is not there is an error when reading, and cannot be forgotten when writing", () => {
    const files = new Map(writeFolder(withKnown()));
    files.delete("known.json");
    expect(reread(files).findings.map(({ code }) => code)).toEqual(["file-absent"]);
    const { characterisation: _, ...forgotten } = withKnown();
    expect(() => writeFolder(forgotten)).toThrow(/lacks the characterisation/);
  });
});
