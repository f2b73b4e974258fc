import {
  CAUTIONS,
  type Campaign,
  type Evaluation,
  isInvented,
  outlineOf,
  type TableField,
  tableFields,
} from "@alcedo-dosimetry/campaign";
import { recordText, toUtf8 } from "@alcedo-dosimetry/tabular";
import { assumptionsTable } from "./assumption-table.ts";
import { comparisonsTable } from "./comparison-table.ts";
import { findingsTable, stagesTable } from "./finding-table.ts";
import { outputFactorsTable } from "./output-factor-table.ts";
import { budgetsTable, resultsTable } from "./quantity-tables.ts";
import type { ResultField, ResultTable } from "./result-table.ts";

/** Every table of an evaluation; one without rows is left out, findings aside. */
export function resultTables(campaign: Campaign, evaluation: Evaluation): readonly ResultTable[] {
  const { result } = evaluation;
  const tables = [
    outputFactorsTable(campaign, evaluation),
    comparisonsTable(campaign, evaluation),
    resultsTable(result),
    budgetsTable(result),
    stagesTable(result),
    findingsTable(result),
    assumptionsTable(campaign),
  ];
  return tables.filter(({ name, rows }) => rows.length > 0 || name === "findings");
}

/**
 * The results as a Data Package of CSV files: `datapackage.json` with a schema for every table, and the tables, numbers at
 * full precision, readings as typed. The same campaign gives the same bytes.
 *
 * Texts are what they are, even where they begin like a formula: a table for programs may not be altered, and quotation marks
 * would stop no spreadsheet. {@link formulaLikeTexts} counts them, and the workbook is what spreadsheets should open.
 *
 * @returns the bytes of each file by its path
 */
export function resultsDataPackage(campaign: Campaign, evaluation: Evaluation): ReadonlyMap<string, Uint8Array> {
  const { descriptor } = campaign;
  const { alcedo, input, standing } = evaluation.result;
  const invented = isInvented(descriptor);
  const tables = resultTables(campaign, evaluation);
  const readings = readingTables(campaign);
  const json = {
    $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
    name: `${descriptor.name.slice(0, 92)}-results`,
    title: `${descriptor.title ?? descriptor.name}: results`,
    description: `${invented ? "INVENTED DATA, measured nowhere: not for use. " : ""}${CAUTIONS}`,
    ...(invented && { keywords: ["invented"] }),
    alcedo: { results: 1, version: alcedo, campaign: descriptor.name, input, standing },
    resources: [
      ...tables.map(({ name, title, fields }) => resource(name, title, fields)),
      ...readings.map(({ name, title, fields }) => resource(name, title, fields)),
    ],
  };
  const files: [string, string][] = [
    ["datapackage.json", `${JSON.stringify(json, undefined, 2)}\n`],
    ...tables.map(({ name, fields, rows }): [string, string] => [
      `${name}.csv`,
      csv([
        fields.map((field) => field.name),
        ...rows.map((row) => row.map((cell) => (cell === null ? "" : String(cell)))),
      ]),
    ]),
    ...readings.map(({ name, records }): [string, string] => [`${name}.csv`, csv(records)]),
  ];
  return new Map(files.map(([path, text]) => [path, toUtf8(text)]));
}

/** How many texts of the tables a spreadsheet program might take for formulas when it opens the CSV files. */
export function formulaLikeTexts(campaign: Campaign, evaluation: Evaluation): number {
  const results = resultTables(campaign, evaluation).flatMap(({ rows }) => rows.flat());
  const readings = readingTables(campaign).flatMap(({ records }) => records.flat());
  const isLike = (cell: unknown) =>
    typeof cell === "string" && /^[=+\-@\t\r]/.test(cell) && !/^[+-]?[\d.,]+(?:e[+-]?\d+)?$/i.test(cell);
  return [...results, ...readings].filter(isLike).length;
}

interface ReadingTable {
  readonly name: string;
  readonly title: string;
  readonly fields: readonly TableField[];
  readonly records: readonly (readonly string[])[];
}

/** The readings of every series as typed, with the schema of the campaign's own tables. */
function readingTables({ descriptor, tables }: Campaign): readonly ReadingTable[] {
  const outline = outlineOf(descriptor);
  return (outline?.resources ?? []).flatMap(({ name, series }) => {
    const table = Object.hasOwn(tables, name) ? tables[name] : undefined;
    if (table === undefined) return [];
    const fields = tableFields(series, outline?.channels ?? [], table);
    const title = `Readings of the series ${series}, as typed`;
    return [{ name: `readings-${series}`, title, fields, records: [table.columns, ...table.rows] }];
  });
}

function resource(name: string, title: string, fields: readonly (ResultField | TableField)[]): object {
  return {
    name,
    title,
    path: `${name}.csv`,
    type: "table",
    format: "csv",
    mediatype: "text/csv",
    encoding: "utf-8",
    dialect: { delimiter: "," },
    schema: { fields, missingValues: [""] },
  };
}

function csv(records: readonly (readonly string[])[]): string {
  return records.map((record) => `${recordText(record, ",")}\n`).join("");
}
