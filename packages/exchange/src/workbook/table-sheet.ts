import {
  type Column,
  columnName,
  columnsOf,
  isNumberText,
  type Table,
  type TableSeriesKind,
} from "@alcedo-dosimetry/campaign";
import { type CellStyle, decimalCell, type WrittenCell, type WrittenSheet } from "@alcedo-dosimetry/tabular/workbook";

/** The format that keeps what is typed as a text: no number of a condition becomes a date. */
const TEXT: CellStyle = { format: "@" };

/** One table as a sheet: the header stays in view, columns of text keep what is typed. */
export function tableSheet(series: TableSeriesKind, table: Table, channels: readonly string[]): WrittenSheet {
  const known = columnsOf(series, channels);
  const names = known.map(({ name }) => name);
  const columns = table.columns.map((typed) => known[names.indexOf(columnName(typed, names))]);
  const header = table.columns.map((value, i): WrittenCell => {
    const align = columns[i]?.kind === "number" ? "right" : "left";
    return { value, style: { header: true, format: "@", align } };
  });
  const rows = table.rows.map((row) => row.map((text, i) => cell(text, columns[i], table.decimal)));
  return {
    name: series,
    rows: [header, ...rows],
    columns: table.columns.map((typed, i) => ({
      width: width(typed, columns[i]),
      ...(columns[i]?.kind !== "number" && { style: TEXT }),
    })),
    frozen: { rows: 1, columns: Math.min(2, columns.length) },
    landscape: true,
  };
}

/** A cell's text as a number where that keeps every digit, else as a text. */
function cell(text: string, column: Column | undefined, decimal: "." | ","): WrittenCell {
  if (text === "") return null;
  if (column?.kind !== "number") return { value: text, style: TEXT };
  // As a text a number has a decimal point, whatever the table's sign: numbers of a sheet have none of their own.
  const point = isNumberText(text, decimal) ? text.replace(",", ".") : text;
  return decimalCell(point) ?? { value: point, style: TEXT };
}

function width(name: string, column: Column | undefined): number {
  const usual =
    column?.kind === "time" ? 27 : name === "note" || name === "exclude" ? 34 : name === "condition" ? 18 : 10;
  return Math.min(60, Math.max(usual, name.length + 3));
}
