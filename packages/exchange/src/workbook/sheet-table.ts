import {
  columnsOf,
  type Finding,
  isError,
  type OutlineResource,
  ROW_LIMIT,
  type StructureCode,
  type StructureDetails,
  shown,
  shownName,
  structureFinding,
  type Table,
  type Where,
} from "@alcedo-dosimetry/campaign";
import { COLUMN_LIMIT, shiftedDecimal } from "@alcedo-dosimetry/tabular";
import { columnLetters, type Row, readReference, type Sheet } from "@alcedo-dosimetry/tabular/workbook";
import type { TableReading } from "../csv-table.ts";
import { type CellText, cellText, type SheetColumn } from "./sheet-cell.ts";
import { sheetDecimal } from "./sheet-decimal.ts";
import { type HeaderReading, headerReader } from "./sheet-header.ts";
import { sheetNotes } from "./sheet-notes.ts";
import { unitPower, unitRemedy } from "./unit-power.ts";

/** Rows among which the header is sought; above it may stand a title. */
const HEADER_WITHIN = 20;

/** What one sheet is read with. */
export interface SheetContext {
  readonly resource: OutlineResource;
  readonly channels: readonly string[];
  readonly signalUnit: string | undefined;
  readonly from1904: boolean;
}

type Report = (code: StructureCode, message: string, details?: StructureDetails) => void;

/** Reads the sheet of one series as a table: header, units and cells, with everything that was converted or cannot be taken. */
export function readSheetTable(sheet: Sheet, context: SheetContext): TableReading {
  const { series, path } = context.resource;
  const where: Where = { series, file: path, sheet: sheet.name };
  const source = `sheet ${shownName(sheet.name)}`;
  const findings: Finding[] = [];
  const report: Report = (code, message, { where: at, ...details } = {}) =>
    findings.push(structureFinding(code, `${source}${message}.`, { ...details, where: { ...where, ...at } }));
  const filled = sheet.rows.filter((row) => row.cells.length > 0);
  if (filled.length === 0) {
    report("table-empty", ": the sheet is empty", { remedy: "Write a header and readings." });
    return { findings };
  }
  if (sheet.beyond === "rows")
    report("table-too-long", `: the sheet has more than ${ROW_LIMIT} rows`, { facts: { limit: ROW_LIMIT } });
  if (sheet.beyond === "columns") report("sheet-too-wide", `: the sheet has more than ${COLUMN_LIMIT} columns`);
  if (sheet.beyond !== undefined) return { findings };

  const known = columnsOf(series, context.channels);
  const read = headerReader(known, context.signalUnit);
  const start = headerRow(filled, (text) => known.some(({ name }) => name === read(text).name));
  const header = filled[start]!;
  const rows = filled.slice(start + 1);
  if (start > 0)
    report(
      "rows-above-header",
      `: the header is row ${header.number}; ${start === 1 ? "1 row above it is" : `${start} rows above it are`} not read`,
      {
        where: { line: header.number },
      },
    );
  reportForm(sheet, header, rows, report);

  const columns = readHeader(header, rows, known, read, report);
  const notes = sheetNotes(where, source);
  const texts = rows.map(({ number, cells }) => {
    const row: CellText[] = columns.map(() => ({ text: "", isNumber: false }));
    for (const cell of cells) {
      const index = columns.findIndex(({ index: at }) => at === cell.column);
      const place = { row: number, column: cell.column };
      row[index] = cellText(cell, place, columns[index]!, context.from1904, notes);
    }
    return row;
  });
  findings.push(...notes.all());
  const decimal = sheetDecimal(texts, rows, columns, where);
  if (typeof decimal !== "string") findings.push(decimal);
  if (findings.some(isError) || typeof decimal !== "string") return { findings };
  const table: Table = {
    path,
    sheet: sheet.name,
    decimal,
    columns: columns.map(({ name }) => name),
    rows: texts.map((row) =>
      row.map(({ text, isNumber }) => (isNumber && decimal === "," ? text.replace(".", ",") : text)),
    ),
    lines: rows.map(({ number }) => number),
  };
  return { table, findings };
}

/** The first row that names at least two columns, or else the first row of all. */
function headerRow(rows: readonly Row[], isColumn: (text: string) => boolean): number {
  const found = rows.slice(0, HEADER_WITHIN).findIndex(({ cells }) => {
    return cells.filter(({ content }) => content.kind === "text" && isColumn(content.text)).length >= 2;
  });
  return Math.max(found, 0);
}

/** Columns of the header and of the cells beneath it, in the sheet's order. */
function readHeader(
  header: Row,
  rows: readonly Row[],
  known: ReturnType<typeof columnsOf>,
  read: (typed: string) => HeaderReading,
  report: Report,
): (SheetColumn & { readonly index: number })[] {
  const headers = new Map(header.cells.map(({ column, content }) => [column, "text" in content ? content.text : ""]));
  const places = new Set([...headers.keys(), ...rows.flatMap(({ cells }) => cells.map(({ column }) => column))]);
  const renamed: string[] = [];
  const columns = [...places]
    .sort((a, b) => a - b)
    .map((index) => {
      const typed = headers.get(index) ?? "";
      const { name, unit, wanted, unitMissing, offset } = read(typed);
      const column = known.find((own) => own.name === name);
      const at = { where: { column: name, line: header.number } };
      const power = unit === undefined || wanted === undefined ? 0 : unitPower(unit, wanted);
      if (unit !== undefined && wanted === undefined)
        report(
          "unit-unsupported",
          `, column ${name}: the header ${shown(typed)} states a unit, which this column does not have`,
          {
            ...at,
            remedy: `Call the column ${name}.`,
          },
        );
      else if (power === undefined)
        report(
          "unit-unsupported",
          `, column ${name}: the header ${shown(typed)} is in ${shownUnit(unit!)}, which is not converted to ${wanted}`,
          {
            ...at,
            remedy: unitRemedy(unit!, wanted!),
            facts: { unit: unit!, wanted: wanted! },
          },
        );
      else if (unitMissing)
        report("unit-missing", `, column ${columnLetters(index)}: the header ${shown(typed)} states no unit`, {
          ...at,
          remedy: `Write ${name}, or the unit in brackets: ${shown(`${typed.trim()} (${wanted})`)}.`,
        });
      else if (power !== 0)
        report(
          "unit-converted",
          `, column ${name}: the header ${shown(typed)} is in ${unit}; every number is multiplied by ${shiftedDecimal("1", power)} to be in ${wanted}`,
          {
            ...at,
            facts: { unit: unit!, wanted: wanted!, factor: `1e${power}` },
          },
        );
      if (power === 0 && !unitMissing && column !== undefined && typed.trim() !== name && offset === undefined)
        renamed.push(`${shown(typed)} as ${name}`);
      return { index, name, power: power ?? 0, ...(column && { column }), ...(offset !== undefined && { offset }) };
    });
  if (renamed.length > 0)
    report("header-understood", `: headers are read as columns: ${renamed.join(", ")}`, {
      where: { line: header.number },
      facts: { headers: renamed.length },
    });
  return columns;
}

/** Merged cells among the readings, rows and columns that are hidden, rows without content between others. */
function reportForm(sheet: Sheet, header: Row, rows: readonly Row[], report: Report): void {
  const merged = sheet.merged.find((range) => {
    const end = readReference(/^[A-Z]{1,3}\d+:([A-Z]{1,3}\d+)$/.exec(range)?.[1] ?? "");
    return end !== undefined && end.row >= header.number;
  });
  if (merged !== undefined) report("cells-merged", `: the cells ${merged} are merged`, { facts: { range: merged } });
  const hidden = rows.filter((row) => row.hidden);
  if (hidden.length > 0)
    report(
      "row-hidden",
      `: ${counted(hidden.length, "row")} hidden and read all the same, the first is row ${hidden[0]!.number}`,
      {
        where: { line: hidden[0]!.number },
        facts: { rows: hidden.length },
      },
    );
  const used = new Set([header, ...rows].flatMap(({ cells }) => cells.map(({ column }) => column)));
  const columns = sheet.hiddenColumns.filter((column) => used.has(column));
  if (columns.length > 0)
    report(
      "row-hidden",
      `: ${counted(columns.length, "column")} hidden and read all the same: ${columns.map(columnLetters).join(", ")}`,
      {
        facts: { columns: columns.length },
      },
    );
  const last = rows.at(-1)?.number ?? header.number;
  const blank = last - header.number - rows.length;
  if (blank > 0) {
    let first = header.number + 1;
    for (const { number } of rows) if (number === first) first += 1;
    report(
      "row-blank",
      `: ${blank === 1 ? "1 blank row is" : `${blank} blank rows are`} skipped, the first is row ${first}`,
      {
        where: { line: first },
        facts: { blank },
      },
    );
  }
}

function counted(count: number, what: string): string {
  return count === 1 ? `1 ${what} is` : `${count} ${what}s are`;
}

function shownUnit(unit: string): string {
  return /^[\p{L}°%/·² ]{1,12}$/u.test(unit) ? unit : shown(unit);
}
