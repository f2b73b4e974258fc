import { readdirSync, readFileSync } from "node:fs";
import type { Campaign } from "@alcedo-dosimetry/campaign";
import { openZip } from "@alcedo-dosimetry/tabular/workbook";
import fc from "fast-check";
import { strToU8 } from "fflate";
import { expect, test } from "vitest";
import { memoryFolder } from "../folder-source.ts";
import { readFolder } from "../read-folder.ts";
import { sampleFolder } from "../testing/sample-folder.ts";
import { writeCampaignWorkbook } from "../workbook/index.ts";
import { writeFolder } from "../write-folder.ts";
import { readCampaignFile } from "./campaign-file.ts";
import { writeZippedFolder } from "./write-zipped-folder.ts";

const sample = readFolder(sampleFolder()).campaign!;

/** The demonstration (invented), from its folder. */
function demonstration(): Campaign {
  const folder = new URL("../../../../examples/demonstration/", import.meta.url);
  const names = readdirSync(folder).filter((name) => /\.(json|csv)$/.test(name));
  const files = names.map((name) => [name, new Uint8Array(readFileSync(new URL(name, folder)))] as const);
  return readFolder(memoryFolder("demonstration", new Map(files))).campaign!;
}

test.each([
  ["the sample", sample],
  ["the demonstration", demonstration()],
])(
  "of %s a zipped folder, taken in and written again, has the same bytes, and its files those of the folder",
  (_, campaign) => {
    const once = writeZippedFolder(campaign);
    const { campaign: again, findings } = readCampaignFile(once, "a.zip");
    expect(findings).toEqual([]);
    expect(writeZippedFolder(again!)).toEqual(once);
    expect(writeFolder(again!)).toEqual(writeFolder(campaign));
  },
);

test.each([
  ["the sample", sample],
  ["the demonstration", demonstration()],
])("of %s a workbook, taken in and written again, has the same bytes", (_, campaign) => {
  const once = writeCampaignWorkbook(campaign);
  const { campaign: again } = readCampaignFile(once, "a.xlsx");
  expect(writeCampaignWorkbook(again!)).toEqual(once);
});

test("whatever cells hold, they come back out of a zip file as they were typed, and the bytes are the same again", () => {
  const text = fc.string({ unit: "grapheme", maxLength: 8 }).filter((cell) => !/[\p{Cc}\p{Surrogate}]/u.test(cell));
  const cells = fc.array(fc.oneof(text, fc.constantFrom("=1+1", '"', "a,b", "two\nlines", " x ")), {
    ...{ minLength: 3, maxLength: 3 },
  });
  fc.assert(
    fc.property(cells, (notes) => {
      const table = sample.tables["separation"]!;
      const at = table.columns.indexOf("note");
      const rows = table.rows.map((row, i) => row.map((cell, k) => (k === at ? notes[i]! : cell)));
      const changed = { ...sample, tables: { ...sample.tables, separation: { ...table, rows } } };
      const once = writeZippedFolder(changed);
      const { campaign } = readCampaignFile(once, "a.zip");
      expect(campaign!.tables["separation"]!.rows).toEqual(rows);
      expect(writeZippedFolder(campaign!)).toEqual(once);
    }),
  );
});

test("the bytes, not the name, say what a file is", () => {
  expect(readCampaignFile(writeCampaignWorkbook(sample), "wrong.zip").campaign).toBeDefined();
  expect(readCampaignFile(writeZippedFolder(sample), "wrong.xlsx").campaign).toBeDefined();
  expect(readCampaignFile(strToU8("reading,condition\n"), "table.csv").findings).toMatchObject([
    { code: "zip-unreadable", message: "table.csv: the file is neither a zipped folder nor a workbook." },
  ]);
  expect(readCampaignFile(strToU8("\u00d0\u00cf"), "old.xls").findings[0]!.code).toMatch(/^workbook-/);
});

test("the files of a zipped folder stand in the order of their paths, at a fixed time", () => {
  const { names } = openZip(writeZippedFolder(sample), 1_000_000);
  expect(names).toEqual(["data/calibration.csv", "datapackage.json", "separation.csv"]);
});
