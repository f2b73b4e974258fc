import Papa from "papaparse";
import { expect, test } from "vitest";
import { exportedCampaign, exportedEvaluation, HARMFUL_TEXTS } from "../testing/exported-campaign.ts";
import { formulaLikeTexts, resultsDataPackage, resultTables } from "./data-package.ts";

const { campaign, evaluation } = exportedEvaluation();
const files = resultsDataPackage(campaign, evaluation);
const text = (path: string) => new TextDecoder().decode(files.get(path));
const records = (path: string) => Papa.parse<string[]>(text(path), { skipEmptyLines: true }).data;
interface Package {
  readonly keywords: string[];
  readonly description: string;
  readonly alcedo: { readonly input: string };
  readonly resources: {
    readonly path: string;
    readonly schema: { readonly fields: { readonly name: string; readonly type: string }[] };
  }[];
}
const descriptor = JSON.parse(text("datapackage.json")) as Package;

test("the same campaign gives the same bytes", () => {
  const again = exportedEvaluation();
  expect([...resultsDataPackage(again.campaign, again.evaluation)]).toEqual([...files]);
});

test("datapackage.json names every table, with a schema whose fields are the header's", () => {
  expect(descriptor.resources.map(({ path }) => path)).toEqual([...files.keys()].slice(1));
  for (const { path, schema } of descriptor.resources)
    expect(records(path)[0]).toEqual(schema.fields.map(({ name }) => name));
  expect(descriptor.alcedo.input).toBe(evaluation.result.input);
  expect(descriptor.keywords).toEqual(["invented"]);
  expect(descriptor.description).toMatch(/^INVENTED DATA.*not a medical device/);
});

test("numbers are at full precision, and what is unknown is empty", () => {
  const [header, ...rows] = records("results.csv");
  const column = (name: string) => rows.map((row) => row[header!.indexOf(name)]!);
  const { quantities } = evaluation.result;
  expect(column("value").map(Number)).toEqual(quantities.map(({ value }) => value));
  expect(column("U").map((cell) => (cell === "" ? null : Number(cell)))).toEqual(quantities.map(({ U }) => U));
  const shares = records("budgets.csv")
    .slice(1)
    .filter((row) => row[0] === "output-factor.cone-15")
    .map((row) => Number(row[9]));
  expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
});

test("every row is as long as its header, and of the types that the schema states", () => {
  for (const { fields, rows, name } of resultTables(campaign, evaluation))
    for (const row of rows) {
      expect(row).toHaveLength(fields.length);
      row.forEach((cell, i) => {
        if (cell !== null)
          expect([name, fields[i]!.name, typeof cell]).toEqual([
            name,
            fields[i]!.name,
            fields[i]!.type === "string" ? "string" : "number",
          ]);
      });
    }
});

test("readings are as typed, and texts that begin like a formula are not altered but counted", () => {
  const { tables } = exportedCampaign();
  expect(records("readings-separation.csv").slice(1)).toEqual(tables["separation"]!.rows);
  const all = descriptor.resources.flatMap(({ path }) => records(path).flat());
  for (const harmful of HARMFUL_TEXTS) expect(all).toContain(harmful);
  const expected = all.filter((cell) => /^[=+\-@\t\r]/.test(cell) && Number.isNaN(Number(cell))).length;
  expect(formulaLikeTexts(campaign, evaluation)).toBe(expected);
  expect(expected).toBeGreaterThan(3);
});
