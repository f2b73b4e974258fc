import { cellReference, columnLetters } from "./cell-reference.ts";
import { escapedText } from "./escaped-text.ts";
import type { StyleSheet } from "./style-sheet.ts";
import type { StyledCell, WrittenCell, WrittenSheet } from "./written-workbook.ts";
import { xmlText } from "./xml-text.ts";

/** Characters that one cell can hold (counted in UTF-16, as programs do). */
export const CELL_LIMIT = 32_767;
const ROW_LIMIT = 1_048_576;
/** Points; a row can have no more than 409. */
const LINE_HEIGHT = 15;
const MOST_LINES = 27;
/** Characters, where a column states no width. */
const USUAL_WIDTH = 8;
const COLUMN_LIMIT = 16_384;

/** What a spreadsheet might take for the start of a formula when the text is typed again. */
const LIKE_FORMULA = /^[=+\-@\t\r]/;

/** One sheet as XML. Texts are stored as texts: no program takes them for formulas. */
export function sheetXml(sheet: WrittenSheet, styles: StyleSheet, isFirst: boolean): string {
  const { rows, columns = [], frozen = {}, filterRow } = sheet;
  const width = Math.max(0, columns.length, ...rows.map((row) => row.length));
  if (rows.length > ROW_LIMIT || width > COLUMN_LIMIT)
    throw new Error(`the sheet ${sheet.name} has more rows or columns than a workbook can hold`);
  const filter =
    filterRow === undefined
      ? ""
      : `<autoFilter ref="A${filterRow}:${cellReference(width - 1, Math.max(rows.length, filterRow))}"/>`;
  return [
    '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">',
    '<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>',
    viewXml(frozen, isFirst),
    '<sheetFormatPr defaultRowHeight="15"/>',
    columns.length === 0 ? "" : `<cols>${columns.map((column, i) => columnXml(column, i, styles)).join("")}</cols>`,
    "<sheetData>",
    ...rows.map((row, i) => rowXml(row, i + 1, columns, styles)),
    "</sheetData>",
    filter,
    '<pageMargins left="0.5" right="0.5" top="0.6" bottom="0.6" header="0.3" footer="0.3"/>',
    `<pageSetup paperSize="9" orientation="${sheet.landscape ? "landscape" : "portrait"}" fitToWidth="1" fitToHeight="0"/>`,
    "</worksheet>",
  ].join("");
}

function viewXml({ rows = 0, columns = 0 }: NonNullable<WrittenSheet["frozen"]>, isFirst: boolean): string {
  const selected = isFirst ? ' tabSelected="1"' : "";
  if (rows === 0 && columns === 0) return `<sheetViews><sheetView${selected} workbookViewId="0"/></sheetViews>`;
  const pane = rows > 0 && columns > 0 ? "bottomRight" : rows > 0 ? "bottomLeft" : "topRight";
  const split = `${columns > 0 ? ` xSplit="${columns}"` : ""}${rows > 0 ? ` ySplit="${rows}"` : ""}`;
  const corner = cellReference(columns, rows + 1);
  return `<sheetViews><sheetView${selected} workbookViewId="0"><pane${split} topLeftCell="${corner}" activePane="${pane}" state="frozen"/><selection pane="${pane}" activeCell="${corner}" sqref="${corner}"/></sheetView></sheetViews>`;
}

function columnXml(
  { width, style }: NonNullable<WrittenSheet["columns"]>[number],
  index: number,
  styles: StyleSheet,
): string {
  const look = style === undefined ? "" : ` style="${styles.indexOf(style)}"`;
  return `<col min="${index + 1}" max="${index + 1}" width="${width}" customWidth="1"${look}/>`;
}

function rowXml(
  row: readonly WrittenCell[],
  number: number,
  columns: NonNullable<WrittenSheet["columns"]>,
  styles: StyleSheet,
): string {
  const cells = row.map((cell, column) => cellXml(cell, column, number, styles)).join("");
  if (cells === "") return "";
  const lines = Math.max(1, ...row.map((cell, column) => linesOf(cell, columns[column]?.width ?? USUAL_WIDTH)));
  const height = lines === 1 ? "" : ` ht="${LINE_HEIGHT * Math.min(lines, MOST_LINES)}" customHeight="1"`;
  return `<row r="${number}"${height}>${cells}</row>`;
}

/** Lines that a wrapped text takes, roughly: not every program finds a row's height by itself. */
function linesOf(cell: WrittenCell, width: number): number {
  if (cell === null || typeof cell !== "object" || typeof cell.value !== "string" || !cell.style?.wrap) return 1;
  const perLine = Math.max(1, width * (cell.style.header || cell.style.bold ? 0.85 : 0.95));
  return cell.value.split("\n").reduce((sum, line) => sum + Math.max(1, Math.ceil(line.length / perLine)), 0);
}

function cellXml(cell: WrittenCell, column: number, row: number, styles: StyleSheet): string {
  const { value, formula, style = {} }: StyledCell = cell !== null && typeof cell === "object" ? cell : { value: cell };
  const at = `${columnLetters(column)}${row}`;
  const quoted = typeof value === "string" && formula === undefined && LIKE_FORMULA.test(value);
  const look = styles.indexOf(style, quoted);
  const head = `<c r="${at}"${look === 0 ? "" : ` s="${look}"`}`;
  const written = formula === undefined ? "" : `<f>${xmlText(formula)}</f>`;
  if (value === null || value === "") {
    if (written !== "") return `${head} t="str">${written}<v></v></c>`;
    return look === 0 ? "" : `${head}/>`;
  }
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new Error(`the cell ${at} would hold ${value}`);
    return `${head}>${written}<v>${String(value)}</v></c>`;
  }
  if (typeof value === "boolean") return `${head} t="b">${written}<v>${value ? 1 : 0}</v></c>`;
  if (value.length > CELL_LIMIT)
    throw new Error(
      `a text of ${value.length} characters is longer than a cell of a workbook can hold (${CELL_LIMIT})`,
    );
  const text = xmlText(escapedText(value));
  if (written !== "") return `${head} t="str">${written}<v>${text}</v></c>`;
  return `${head} t="inlineStr"><is><t xml:space="preserve">${text}</t></is></c>`;
}
