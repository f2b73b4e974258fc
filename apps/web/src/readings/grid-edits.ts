import { type Campaign, columnAt, type Edit, EditError, isNumberText, type Table } from "@alcedo-dosimetry/campaign";
import { inDecimal, numberedOn } from "../block/block-table.ts";
import { asTable } from "../look/decimal-sign.ts";
import type { GridColumn } from "./grid-columns.ts";

/** A place in a grid: row from 0, and the column as typed. */
export interface Place {
  readonly row: number;
  readonly column: GridColumn;
}

/** Edits with the words that the history will have for them. */
export interface Change {
  readonly edits: readonly Edit[];
  readonly why: string;
}

/** What somebody typed, as it goes into the table: a number with the table's decimal sign, anything else as it is. */
export function typedText(text: string, { known }: GridColumn, decimal: "." | ","): string {
  return known?.kind === "number" ? asTable(text, decimal) : text.replaceAll("\r", "").trim();
}

/** Whether a text is a whole number already, so that results may follow while it is typed on. */
export function isWhole(text: string, { known }: GridColumn, decimal: "." | ","): boolean {
  return known?.kind === "number" && isNumberText(text, decimal);
}

/** The change of one cell; in the row behind the last it makes a new one. Undefined where nothing changes. */
export function cellChange(name: string, table: Table, { row, column }: Place, text: string): Change | undefined {
  const at = columnAt(table.columns, column.typed);
  if (row >= table.rows.length) {
    if (text === "") return undefined;
    const cells = nextRow(table, column);
    cells[at] = text;
    const why = `${name}: reading ${readingOf(table, cells)} added`;
    return { edits: [{ insert: { table: name, at: table.rows.length, rows: [cells] } }], why };
  }
  const old = table.rows[row]![at]!;
  if (old === text) return undefined;
  return {
    edits: [{ cell: { table: name, row, column: column.typed, text } }],
    why: `${name}, ${readingOf(table, table.rows[row]!)}, ${column.title}: ${quoted(old)} → ${quoted(text)}`,
  };
}

/** Columns that describe a condition or a common setting: a new reading has them as the one before it. */
const CARRIED = new Set([
  ...["condition", "duration_s", "mu", "dose_group", "role", "fibre_mm", "dose_Gy", "dose_u_Gy", "dose_u_percent"],
  ...["shape", "x_mm", "y_mm", "diameter_mm", "fwhm_x_mm", "fwhm_y_mm", "sigma_mm", "sigma_u_mm"],
]);

/** A new row at the end: numbered on, and under the condition of the one before unless a condition is typed. */
function nextRow(table: Table, typedInto: GridColumn): string[] {
  const readingAt = columnAt(table.columns, "reading");
  const last = table.rows.at(-1);
  const carries = last !== undefined && typedInto.typed.trim() !== "condition";
  return table.columns.map((typed, k) => {
    if (k === readingAt) return numberedOn(new Set(table.rows.map((row) => row[readingAt]!.trim())))();
    return carries && CARRIED.has(typed.trim()) ? last[k]! : "";
  });
}

/** A cell put into the rows beneath it, from the row after `from` to `to`. */
export function fillChange(
  name: string,
  table: Table,
  column: GridColumn,
  from: number,
  to: number,
): Change | undefined {
  const at = columnAt(table.columns, column.typed);
  const text = table.rows[from]?.[at];
  if (text === undefined) return undefined;
  const edits = table.rows.flatMap((row, k): Edit[] =>
    k > from && k <= to && row[at] !== text ? [{ cell: { table: name, row: k, column: column.typed, text } }] : [],
  );
  return edits.length === 0 ? undefined : { edits, why: `${name}: ${column.title} ${quoted(text)} filled down` };
}

/** A block without a header put in from a cell on; rows that the table lacks are added. */
export function blockChange(
  name: string,
  table: Table,
  columns: readonly GridColumn[],
  { row: first, column }: Place,
  cells: readonly (readonly string[])[],
  decimal: "." | ",",
): Change | undefined {
  const start = columns.indexOf(column);
  const width = Math.max(...cells.map((row) => row.length));
  if (start + width > columns.length)
    throw new EditError(
      `The block is ${width} columns wide, and from ${column.title} on the table has ${columns.length - start}.`,
      "Paste it further left, or with its header, so that its columns are recognised.",
    );
  const fitted = cells.map((row) => row.map((cell) => inDecimal(cell, decimal, table.decimal)));
  const edits: Edit[] = [];
  const added: string[][] = [];
  const readingAt = columnAt(table.columns, "reading");
  const number = numberedOn(new Set(table.rows.map((row) => row[readingAt]?.trim() ?? "")));
  fitted.forEach((row, k) => {
    const at = first + k;
    if (at < table.rows.length) {
      row.forEach((text, m) => {
        const own = columns[start + m]!;
        if (table.rows[at]![columnAt(table.columns, own.typed)] !== text)
          edits.push({ cell: { table: name, row: at, column: own.typed, text } });
      });
      return;
    }
    const whole = nextRow(table, column);
    row.forEach((text, m) => {
      whole[columnAt(table.columns, columns[start + m]!.typed)] = text;
    });
    const readingGiven = start <= readingAt && readingAt < start + row.length;
    if (readingAt >= 0 && !readingGiven) whole[readingAt] = number();
    added.push(whole);
  });
  if (added.length > 0) edits.push({ insert: { table: name, at: table.rows.length, rows: added } });
  return edits.length === 0 ? undefined : { edits, why: `${name}: block of ${cells.length} × ${width} cells pasted` };
}

/** A reading left out with a reason, or taken in again (an empty reason). */
export function excludeChange(name: string, table: Table, row: number, reason: string, who: string): Change {
  const reading = readingOf(table, table.rows[row]!);
  const out = reason.trim() !== "";
  const cell = (column: string, text: string): Edit => ({ cell: { table: name, row, column, text } });
  const hasWho = columnAt(table.columns, "excluded_by") >= 0;
  return {
    edits: [cell("exclude", reason.trim()), ...(out || hasWho ? [cell("excluded_by", out ? who : "")] : [])],
    why: out ? `${name}: ${reading} left out: ${reason.trim()}` : `${name}: ${reading} taken in again`,
  };
}

/** A column put behind the others, empty. A table without rows is put anew, since an edit of a cell needs a row. */
export function columnChange({ tables }: Campaign, name: string, column: string): Change {
  const table = tables[name]!;
  const edits: Edit[] =
    table.rows.length > 0
      ? [{ cell: { table: name, row: 0, column, text: "" } }]
      : [{ put: { name, table: { ...table, columns: [...table.columns, column] } } }];
  return { edits, why: `${name}: column ${column} added` };
}

/** The name of a row's reading, for words. */
export function readingOf(table: Pick<Table, "columns">, row: readonly string[]): string {
  const at = columnAt(table.columns, "reading");
  const name = at < 0 ? "" : row[at]!.trim();
  return name === "" ? "a reading without a name" : name;
}

const quoted = (text: string) => (text === "" ? "empty" : text.length > 40 ? `${text.slice(0, 39)}…` : text);
