import type { Campaign, Evaluation } from "@alcedo-dosimetry/campaign";
import { columnLetters, type WrittenSheet, writeWorkbook } from "@alcedo-dosimetry/tabular/workbook";
import { assumptionsTable } from "../tables/assumption-table.ts";
import { comparisonsTable } from "../tables/comparison-table.ts";
import { findingsTable } from "../tables/finding-table.ts";
import { outputFactorsTable } from "../tables/output-factor-table.ts";
import { budgetsTable, resultsTable } from "../tables/quantity-tables.ts";
import type { ResultTable } from "../tables/result-table.ts";
import { aboutSheet } from "./about-sheet.ts";
import { differenceColumn, overReferenceColumn, ratioColumn, relativeColumn } from "./live-columns.ts";
import { dofFormat, formatFor, significantFormat } from "./number-look.ts";
import { readingSheets } from "./reading-sheets.ts";
import { HEADER_ROW, type LiveColumn, type RowCells, rowCells, tableSheetOf } from "./sheets.ts";

/**
 * The results as a workbook: about, output factors, comparisons, results, budgets, findings, assumptions, readings. Numbers keep
 * all their digits; percentages, differences and ratios that a reader would check are live formulas; texts are stored as texts.
 * The same campaign gives the same bytes.
 *
 * @param evaluation of that campaign; one without a model gives a workbook of findings and readings
 */
export function resultsWorkbook(campaign: Campaign, evaluation: Evaluation): Uint8Array {
  const { result } = evaluation;
  const budgets = budgetsTable(result);
  const sheets: WrittenSheet[] = [
    ...outputFactors(outputFactorsTable(campaign, evaluation)),
    ...comparisons(comparisonsTable(campaign, evaluation)),
    ...results(resultsTable(result), budgets),
    ...budgetSheet(budgets),
    findings(findingsTable(result)),
    assumptions(assumptionsTable(campaign)),
    ...readingSheets(campaign),
  ];
  return writeWorkbook([aboutSheet(campaign, evaluation), ...sheets]);
}

function outputFactors(table: ResultTable): WrittenSheet[] {
  if (table.rows.length === 0) return [];
  const role = table.fields.findIndex(({ name }) => name === "role");
  const at = table.rows.findIndex((row) => row[role] === "reference");
  const reference = at < 0 ? undefined : rowCells(table, table.rows[at]!, HEADER_ROW + 1 + at);
  const sheet = tableSheetOf(table, {
    name: "output factors",
    heads: {
      equivalent_square_mm: "S_clin (mm)",
      output_factor: "Ω",
      u: "u(Ω)",
      U: "U(Ω)",
      k_volume: "k_vol",
      k_positioning: "k_pos",
    },
    widths: { condition: 18, role: 11, shape: 11 },
    format: (name, value, row) =>
      name === "output_factor"
        ? formatFor(value, row.number("u") ?? 1e-3)
        : name.endsWith("_mm")
          ? "0.0"
          : name === "u" || name === "U"
            ? significantFormat(value, 2)
            : name === "dof"
              ? dofFormat(value)
              : name === "k"
                ? "0.00"
                : "0.0000",
    live: [
      relativeColumn("u/Ω", "u", "output_factor"),
      relativeColumn("U/Ω", "U", "output_factor"),
      overReferenceColumn("signal over the reference's", "signal", reference),
      overReferenceColumn("dose over the reference's", "dose_Gy", reference),
      overReferenceColumn("k_vol over the reference's", "k_volume", reference),
    ],
  });
  return [sheet];
}

function comparisons(table: ResultTable): WrittenSheet[] {
  if (table.rows.length === 0) return [];
  const live: LiveColumn[] = [
    differenceColumn("difference", "output_factor", "set_value"),
    ratioColumn("E_n", "difference", "U", "0.00"),
  ];
  return [
    tableSheetOf(table, {
      name: "comparisons",
      widths: { source: 24, condition: 18, set_from: 18 },
      heads: { equivalent_square_mm: "S_clin (mm)", output_factor: "Ω", difference: "difference (fraction)", en: "en" },
      format: (name, value) =>
        name === "u" || name === "U" ? significantFormat(value, 2) : name === "en" ? "0.00" : "0.0000",
      frozenColumns: 2,
      live,
    }),
  ];
}

function results(table: ResultTable, budgets: ResultTable): WrittenSheet[] {
  if (table.rows.length === 0) return [];
  return [
    tableSheetOf(table, {
      name: "results",
      widths: { id: 38, label: 44, symbol: 14, unit: 10, type_a: 10 },
      wrapped: ["label"],
      format: (name, value, row) =>
        name === "value"
          ? formatFor(value, row.number("u") ?? null)
          : name === "u" || name === "U"
            ? significantFormat(value, 2)
            : name === "dof"
              ? dofFormat(value)
              : "0.00",
      live: [relativeColumn("u/|value|", "u", "value"), relativeColumn("U/|value|", "U", "value"), shareSum(budgets)],
    }),
  ];
}

/** The shares of a quantity's budget, added up by the spreadsheet: they make one. */
function shareSum(budgets: ResultTable): LiveColumn {
  const [id, share] = ["quantity", "share"].map((name) => budgets.fields.findIndex((field) => field.name === name)) as [
    number,
    number,
  ];
  const range = (column: number) => {
    const letters = columnLetters(column);
    return `budgets!$${letters}$${HEADER_ROW + 1}:$${letters}$${HEADER_ROW + budgets.rows.length}`;
  };
  return {
    head: "sum of shares",
    format: "0.00%",
    formula(row: RowCells) {
      const own = budgets.rows.filter((line) => line[id] === row.text("id"));
      if (own.length === 0) return undefined;
      const value = own.reduce((sum, line) => sum + Number(line[share]), 0);
      return { formula: `SUMPRODUCT((${range(id)}=${row.cell("id")})*${range(share)})`, value };
    },
  };
}

function budgetSheet(table: ResultTable): WrittenSheet[] {
  if (table.rows.length === 0) return [];
  return [
    tableSheetOf(table, {
      name: "budgets",
      widths: { quantity: 38, input: 44, label: 44, type: 7, unit: 10 },
      wrapped: ["label"],
      format: (name, value, row) =>
        name === "value"
          ? formatFor(value, row.number("u") ?? null)
          : name === "share"
            ? "0.0%"
            : significantFormat(value, name === "sensitivity" ? 4 : 2),
      live: [contribution()],
    }),
  ];
}

/** |sensitivity|·u, to be held against the column beside it. */
function contribution(): LiveColumn {
  return {
    head: "|sensitivity|·u",
    format: "0.0E+00",
    formula(row) {
      const [slope, u] = [row.number("sensitivity"), row.number("u")];
      if (slope === undefined || u === undefined) return undefined;
      return { formula: `ABS(${row.cell("sensitivity")})*${row.cell("u")}`, value: Math.abs(slope) * u };
    },
  };
}

function findings(table: ResultTable): WrittenSheet {
  return tableSheetOf(table, {
    name: "findings",
    widths: { level: 9, code: 26, message: 60, effect: 40, remedy: 40, series: 15, sheet: 15, row: 6, line: 6 },
    wrapped: ["message", "effect", "remedy", "code"],
    format: () => "0",
    style: (row) => (row.text("level") === "error" ? { bold: true } : {}),
    frozenColumns: 2,
  });
}

function assumptions(table: ResultTable): WrittenSheet {
  return tableSheetOf(table, {
    name: "assumptions",
    widths: { key: 46, origin: 10, source: 60 },
  });
}
