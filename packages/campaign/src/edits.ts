import type { Campaign } from "./campaign.ts";
import type { Descriptor } from "./descriptor.ts";
import { columnAt } from "./header.ts";
import type { Table } from "./table.ts";

/**
 * One change to an open campaign, as plain JSON: the only way to change one, on a page as in an archive. Rows count from 0
 * in {@link Table.rows}, as the edits before have left them.
 */
export type Edit =
  /** Another text in one cell; `column` as typed in the header, added behind the others where the table lacks it. */
  | { readonly cell: { readonly table: string; readonly row: number; readonly column: string; readonly text: string } }
  /** Rows put in before the row `at`; their cells in the order of the table's columns. */
  | { readonly insert: { readonly table: string; readonly at: number; readonly rows: readonly (readonly string[])[] } }
  /** So many rows taken out, from the row `at` on. */
  | { readonly remove: { readonly table: string; readonly at: number; readonly count: number } }
  /** A whole table: a new one behind the others, another in the place of one; without `table` it is taken out. */
  | { readonly put: { readonly name: string; readonly table?: Table } }
  /** The whole descriptor; the order of its keys is kept. */
  | { readonly descriptor: Descriptor };

/** An edit that does not fit its campaign: what is wrong, and what to do. */
export class EditError extends Error {
  override readonly name = "EditError";
  readonly remedy: string;

  constructor(message: string, remedy: string) {
    super(`${message} ${remedy}`);
    this.remedy = remedy;
  }
}

/**
 * The campaign after edits, one after the other; the campaign itself stays as it is, and what is not touched is shared.
 *
 * @throws EditError naming the edit that does not fit: no such table or row, a row of another width, a text that cannot be
 *   kept; nothing is then done
 */
export function applyEdits(campaign: Campaign, edits: readonly Edit[]): Campaign {
  return batches(edits).reduce(afterBatch, campaign);
}

/** Edits that are made in one go: cells of one table that follow each other, or a single edit of another kind. */
export type EditBatch =
  | { readonly table: string; readonly cells: readonly CellEdit[] }
  | Exclude<Edit, { cell: object }>;
type CellEdit = Extract<Edit, { cell: object }>["cell"];

/** Takes cells of one table that follow each other together: a pasted block copies its table once. */
export function batches(edits: readonly Edit[]): EditBatch[] {
  const all: (EditBatch | { table: string; cells: CellEdit[] })[] = [];
  for (const edit of edits) {
    const last = all.at(-1);
    if (!("cell" in edit)) all.push(edit);
    else if (last !== undefined && "cells" in last && last.table === edit.cell.table)
      (last.cells as CellEdit[]).push(edit.cell);
    else all.push({ table: edit.cell.table, cells: [edit.cell] });
  }
  return all;
}

/** The campaign after one batch. */
export function afterBatch(campaign: Campaign, batch: EditBatch): Campaign {
  if ("descriptor" in batch) return { ...campaign, descriptor: batch.descriptor };
  if ("put" in batch) return withPut(campaign, batch.put.name, batch.put.table);
  if ("cells" in batch) return withTable(campaign, batch.table, (table) => withCells(table, batch));
  if ("insert" in batch) return withTable(campaign, batch.insert.table, (table) => withRows(table, batch.insert));
  return withTable(campaign, batch.remove.table, (table) => withoutRows(table, batch.remove));
}

/** Where a column stands, from 0: its header as typed, or without blanks around it; -1 where it is not. */
export function columnPosition(columns: readonly string[], column: string): number {
  const exact = columns.indexOf(column);
  return exact >= 0 ? exact : columnAt(columns, column.trim());
}

/** A table of a campaign by its name. */
export function editedTable(campaign: Campaign, name: string): Table {
  if (Object.hasOwn(campaign.tables, name)) return campaign.tables[name]!;
  const known = Object.keys(campaign.tables).join(", ");
  throw new EditError(`The campaign has no table ${name}.`, `Its tables are ${known === "" ? "none" : known}.`);
}

function withTable(campaign: Campaign, name: string, change: (table: Table) => Table): Campaign {
  return { ...campaign, tables: { ...campaign.tables, [name]: change(editedTable(campaign, name)) } };
}

function withPut(campaign: Campaign, name: string, table: Table | undefined): Campaign {
  if (table !== undefined) {
    refuseMisshapen(name, table);
    return { ...campaign, tables: { ...campaign.tables, [name]: table } };
  }
  editedTable(campaign, name);
  const rest = Object.entries(campaign.tables).filter(([other]) => other !== name);
  return { ...campaign, tables: Object.fromEntries(rest) };
}

function withCells(table: Table, { table: name, cells }: { table: string; cells: readonly CellEdit[] }): Table {
  const columns = [...table.columns];
  const rows = [...table.rows];
  const own = new Map<number, string[]>();
  for (const { row, column, text } of cells) {
    if (column.trim() === "") throw new EditError(`A column of ${name} has no name.`, "Name the column.");
    refuseUnkeepable(name, row, text);
    if (!Number.isInteger(row) || row < 0 || row >= rows.length) throw noRow(name, row, rows.length);
    let index = columnPosition(columns, column);
    if (index < 0) index = columns.push(column) - 1;
    const cellsOfRow = own.get(row) ?? [...rows[row]!];
    while (cellsOfRow.length <= index) cellsOfRow.push("");
    cellsOfRow[index] = text;
    own.set(row, cellsOfRow);
  }
  for (const [row, changed] of own) rows[row] = changed;
  const wide = columns.length === table.columns.length ? rows : rows.map((row) => widened(row, columns.length));
  return { ...table, columns, rows: wide };
}

function widened(row: readonly string[], width: number): readonly string[] {
  return row.length === width ? row : [...row, ...Array.from({ length: width - row.length }, () => "")];
}

/** New rows take the lines behind the row before them, and later rows move down. */
function withRows(table: Table, { table: name, at, rows }: Extract<Edit, { insert: object }>["insert"]): Table {
  if (!Number.isInteger(at) || at < 0 || at > table.rows.length) throw noRow(name, at, table.rows.length + 1);
  rows.forEach((row, i) => {
    refuseWidth(name, at + i, row, table.columns);
    for (const text of row) refuseUnkeepable(name, at + i, text);
  });
  const first = at > 0 ? table.lines[at - 1]! + 1 : (table.lines[0] ?? 2);
  return {
    ...table,
    rows: [...table.rows.slice(0, at), ...rows, ...table.rows.slice(at)],
    lines: [
      ...table.lines.slice(0, at),
      ...rows.map((_, i) => first + i),
      ...table.lines.slice(at).map((line) => line + rows.length),
    ],
  };
}

function withoutRows(table: Table, { table: name, at, count }: Extract<Edit, { remove: object }>["remove"]): Table {
  if (!Number.isInteger(at) || at < 0 || at > table.rows.length) throw noRow(name, at, table.rows.length);
  if (!Number.isInteger(count) || count < 0 || at + count > table.rows.length)
    throw noRow(name, at + count - 1, table.rows.length);
  return {
    ...table,
    rows: [...table.rows.slice(0, at), ...table.rows.slice(at + count)],
    lines: [...table.lines.slice(0, at), ...table.lines.slice(at + count).map((line) => line - count)],
  };
}

function refuseMisshapen(name: string, table: Table) {
  if (table.lines.length !== table.rows.length) {
    const counts = `${table.rows.length} rows and ${table.lines.length} line numbers`;
    throw new EditError(`The table ${name} has ${counts}.`, "Give one line number for each row.");
  }
  table.rows.forEach((row, i) => {
    refuseWidth(name, i, row, table.columns);
    for (const text of row) refuseUnkeepable(name, i, text);
  });
  for (const text of table.columns) refuseUnkeepable(name, 0, text);
}

function refuseWidth(name: string, row: number, cells: readonly string[], columns: readonly string[]) {
  if (cells.length === columns.length) return;
  throw new EditError(
    `Row ${row + 1} of ${name} has ${cells.length} cells, and the table ${columns.length} columns.`,
    "Give a text for each column, an empty one where there is none.",
  );
}

/** What no file of a campaign holds, so that it would not come back as it was typed. */
const UNKEEPABLE = [
  [/\r/, "a carriage return", "Write line breaks inside a cell as \\n."],
  // biome-ignore lint/suspicious/noControlCharactersInRegex: that is the character to be refused
  [/\u0000/, "a zero character", "Type the text again."],
  [/\p{Surrogate}/u, "half a character (a lone surrogate)", "Type the text again."],
] as const;

function refuseUnkeepable(name: string, row: number, text: string) {
  for (const [pattern, what, remedy] of UNKEEPABLE) {
    if (pattern.test(text)) throw new EditError(`A text in row ${row + 1} of ${name} holds ${what}.`, remedy);
  }
}

function noRow(name: string, row: number, rows: number): EditError {
  return new EditError(`The table ${name} has no row ${row + 1}.`, `Choose one of its ${rows}.`);
}
