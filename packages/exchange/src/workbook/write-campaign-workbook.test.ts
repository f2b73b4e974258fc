import { type Campaign, digest, type Table } from "@alcedo-dosimetry/campaign";
import { readWorkbook } from "@alcedo-dosimetry/tabular/workbook";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readFolder } from "../read-folder.ts";
import { changedDescriptor, sampleFolder } from "../testing/sample-folder.ts";
import { readCampaignWorkbook } from "./read-campaign-workbook.ts";
import { writeCampaignWorkbook } from "./write-campaign-workbook.ts";

const sample = () => readFolder(sampleFolder()).campaign!;
const reread = (campaign: Campaign) => readCampaignWorkbook(writeCampaignWorkbook(campaign), "written.xlsx");
const withTable = (campaign: Campaign, name: string, change: Partial<Table>): Campaign => ({
  ...campaign,
  tables: { ...campaign.tables, [name]: { ...campaign.tables[name]!, ...change } },
});
const LIMITS = { rows: 1000, columns: 100, unpacked: 10_000_000, sheets: 10 };

test("a campaign comes back with its digest, its cells as typed and no finding, and is written to the same bytes again", () => {
  const campaign = sample();
  const { campaign: again, findings } = reread(campaign);
  expect(findings).toEqual([]);
  expect(digest(again!)).toBe(digest(campaign));
  expect(again!.tables["separation"]!.rows).toEqual(campaign.tables["separation"]!.rows);
  expect(writeCampaignWorkbook(again!)).toEqual(writeCampaignWorkbook(campaign));
});

test("readings are numbers with their decimals, texts and times are texts, and a sheet explains every column", () => {
  const { sheets } = readWorkbook(writeCampaignWorkbook(sample(), { introduction: ["Begin here."] }), LIMITS);
  expect(sheets.map(({ name }) => name)).toEqual(["read me", "campaign", "separation", "calibration"]);
  const [reading, , blue] = sheets[2]!.rows[1]!.cells;
  expect(reading!.content).toEqual({ kind: "text", text: "s1" });
  expect([blue!.content, blue!.format]).toEqual([
    { kind: "number", text: "6.5" },
    { shows: "number", decimals: 2 },
  ]);
  const words = sheets[0]!.rows.flatMap(({ cells }) =>
    cells.map(({ content }) => ("text" in content ? content.text : "")),
  );
  for (const word of ["Begin here.", "dose_u_percent", "signal_green", "exclude"]) expect(words).toContain(word);
});

test("everything that a descriptor may hold comes back: lists, objects, properties of tables", () => {
  const text = changedDescriptor((json) => {
    Object.assign(json, {
      title: "=1+1",
      description: "line\nbreak, <b>",
      keywords: ["one", "two, three", "[4]"],
      contributors: [{ title: "A. Physicist", roles: ["measured"] }],
      version: "1.10",
    });
    Object.assign(json.alcedo, {
      assumptions: { penumbraSigma_mm: { value: 1.5, u: 0.1 + 0.2 }, referenceTemperature_C: 22 },
    });
    Object.assign(json.alcedo.beam, { flatteningFilter: false });
    Object.assign(json.resources[1]!, { title: "At depth", sources: [{ title: "chamber" }], name: "chamber" });
  });
  const { campaign } = readFolder(sampleFolder({ "datapackage.json": text }));
  const { campaign: again, findings } = reread(campaign!);
  expect(findings).toEqual([]);
  expect(again!.descriptor).toEqual(campaign!.descriptor);
});

test("a table of output corrections is a sheet, explained column by column, and comes back with its digest", () => {
  const campaign = sample();
  const table: Table = {
    path: "output-corrections.csv",
    decimal: ".",
    columns: ["equivalent_square_mm", "output_correction", "u_percent", "source", "volume_averaging"],
    rows: [
      ["5.0", "1.020", "0.8", "invented", "included"],
      ["100", "1", "0", "invented", "included"],
    ],
    lines: [2, 3],
  };
  const name = "output-corrections";
  const more: Campaign = {
    descriptor: {
      ...campaign.descriptor,
      resources: [...campaign.descriptor.resources, { name, path: table.path, alcedo: { series: name } }],
    },
    tables: { ...campaign.tables, [name]: table },
  };
  const { campaign: again, findings } = reread(more);
  expect(findings).toEqual([]);
  expect(digest(again!)).toBe(digest(more));
  expect(again!.tables[name]!.rows).toEqual(table.rows);
  const { sheets } = readWorkbook(writeCampaignWorkbook(more), LIMITS);
  expect(sheets.map((sheet) => sheet.name)).toContain(name);
  const explained = sheets[0]!.rows.filter(({ cells }) => JSON.stringify(cells).includes(`"${name}"`));
  expect(explained).toHaveLength(table.columns.length);
});

test("decimal commas come back as numbers, with the same digest", () => {
  const rows = [["c1", "ref", "6,500", "3,5e0", "1,00", "0,7"]];
  const campaign = withTable(sample(), "calibration", { decimal: ",", rows });
  const { campaign: again } = reread(campaign);
  expect(again!.tables["calibration"]!.rows).toEqual([["c1", "ref", "6.500", "3.5e0", "1.00", "0.7"]]);
  expect(digest(again!)).toBe(digest(campaign));
});

describe("refused, so that nothing is read back as something else:", () => {
  test("a table without resource, a resource without table", () => {
    const { descriptor, tables } = sample();
    expect(() => writeCampaignWorkbook({ descriptor, tables: { ...tables, extra: tables["separation"]! } })).toThrow(
      "extra",
    );
    expect(() => writeCampaignWorkbook({ descriptor, tables: {} })).toThrow("has no table");
  });

  test("a column that a sheet would take for another", () => {
    const { columns } = sample().tables["calibration"]!;
    const campaign = withTable(sample(), "calibration", {
      columns: [...columns, "temperature (°C)"],
      rows: [["c1", "ref", "6.5", "3.5", "1", "0.7", "warm"]],
    });
    expect(() => writeCampaignWorkbook(campaign)).toThrow("would be read as something else");
  });

  test("a number with the other decimal sign, which is no number in the table", () => {
    const rows = [["c1", "ref", "6.500", "3,5", "1", "1"]];
    expect(() => writeCampaignWorkbook(withTable(sample(), "calibration", { decimal: ",", rows }))).toThrow(
      "something else",
    );
  });

  test("an empty text of the descriptor, a text longer than a cell", () => {
    const { descriptor, tables } = sample();
    expect(() => writeCampaignWorkbook({ descriptor: { ...descriptor, title: "" }, tables })).toThrow(
      "empty text of title",
    );
    expect(() => writeCampaignWorkbook({ descriptor: { ...descriptor, title: "m".repeat(40_000) }, tables })).toThrow(
      "longer than a cell",
    );
  });
});

/** Cells of any text, and many that look like numbers, formulas, dates or markup. */
const cell = fc.oneof(
  fc.string({ unit: "grapheme", maxLength: 8 }).map((any) => any.replaceAll("\r", "").replaceAll("\u0000", "")),
  fc.constantFrom(
    "6.500",
    "-0.10",
    "+6.5",
    "1e3",
    "007",
    "12345678901234567890",
    "=1+1",
    "@x",
    "-",
    "2026-03-14",
    "TRUE",
    "#N/A",
    "<b>",
    "\u202eabc",
    "",
    " ",
  ),
);
const number = fc.oneof(
  fc
    .tuple(fc.integer({ min: -99999, max: 99999 }), fc.nat(6))
    .map(([whole, decimals]) => (whole / 10 ** decimals).toFixed(decimals)),
  fc.constantFrom("", "+6.5", "1e3", "007", "overflow", ".5", "5.", "0.12345678901234567890"),
);

test("whatever the cells hold, a workbook gives the same campaign or is not written", () => {
  let written = 0;
  fc.assert(
    fc.property(fc.array(fc.tuple(cell, cell, number, number, cell), { maxLength: 6 }), (rows) => {
      const columns = ["reading", "condition", "signal_blue", "signal_green", "note"];
      const lines = rows.map((_, i) => i + 2);
      const campaign = withTable(sample(), "separation", { columns, rows, lines });
      const { campaign: again } = reread(campaign);
      expect(digest(again!)).toBe(digest(campaign));
      written += 1;
    }),
    { numRuns: 200 },
  );
  expect(written).toBeGreaterThan(150);
});

test("a campaign with a characterisation from another day stays a folder, and that is said", () => {
  const known = { ...sample(), characterisation: { version: 1 } };
  expect(() => writeCampaignWorkbook(known)).toThrow(/characterisation from another day.*keep it as a folder/);
});
