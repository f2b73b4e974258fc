import { columnPosition, type Edit } from "./edits.ts";
import type { CellConflict } from "./edits-conflict.ts";
import { matchRows, type Origins, readingNames } from "./edits-row-origins.ts";
import type { Table } from "./table.ts";

/** The three states of a table; without `base` both sides have begun it. */
export interface ThreeTables {
  readonly base: Table | undefined;
  readonly mine: Table;
  readonly theirs: Table;
}

/** What comes of it. */
export interface MergedTable {
  readonly edits: readonly Edit[];
  readonly conflicts: readonly CellConflict[];
}

/** A row of the table to be: theirs or a new one of mine, by its number there. */
interface Row {
  readonly theirs?: number;
  readonly mine?: number;
}

/**
 * Merges changes to a table cell by cell: as edits to their state of it.
 *
 * @param origins for each row of mine, the row of the base that it was
 */
export function mergeTable(name: string, tables: ThreeTables, origins: Origins): MergedTable {
  const { mine, theirs } = tables;
  const base = tables.base ?? { ...theirs, rows: [], lines: [] };
  const conflicts: CellConflict[] = [];
  if (isRecast(base, mine, theirs)) {
    const texts = { base: formOf(base), mine: formOf(mine), theirs: formOf(theirs) };
    return { edits: [], conflicts: [{ table: name, reading: "", column: "", ...texts }] };
  }
  const theirOrigins = matchRows(base, theirs);
  const theirRows = new Map(theirOrigins.map((origin, row) => [origin, row]));
  const rows: Row[] = theirs.rows.map((_, row) => ({ theirs: row }));
  const cells: { row: Row; column: string; text: string }[] = [];
  const conflict = (reading: string, column: string, texts: Partial<Pick<CellConflict, "base" | "mine" | "theirs">>) =>
    conflicts.push({ table: name, reading, column, ...texts });
  const names = { base: namesIn(base), mine: namesIn(mine), theirs: namesIn(theirs) };

  // rows that both have
  for (const [row, origin] of origins.entries()) {
    if (origin === null) continue;
    const was = base.rows[origin]!;
    const there = theirRows.get(origin) ?? -1;
    for (const [i, column] of mine.columns.entries()) {
      const text = mine.rows[row]![i]!;
      const before = cellAt(base, was, column);
      if (text === (before ?? "")) continue;
      const now = there < 0 ? undefined : cellAt(theirs, theirs.rows[there]!, column);
      const isColumnThere = now !== undefined || before === undefined;
      if (there >= 0 && isColumnThere && (now ?? "") === (before ?? ""))
        cells.push({ row: rows[there]!, column, text });
      else if (now !== text) conflict(names.base[origin]!, column.trim(), texts(before, text, now));
    }
  }
  // rows that I took out
  const kept = new Set(origins);
  const gone = new Set<Row>();
  for (const [row, origin] of theirOrigins.entries()) {
    if (origin === null || kept.has(origin)) continue;
    const changed = changedCells(base, base.rows[origin]!, theirs, theirs.rows[row]!);
    if (changed.length === 0) gone.add(rows[row]!);
    for (const { column, before, now } of changed) conflict(names.base[origin]!, column, texts(before, undefined, now));
  }
  // rows that I put in
  const placed: Row[] = [...rows];
  for (const [row, origin] of origins.entries()) {
    if (origin !== null) continue;
    const twin = theirs.rows.findIndex(
      (_, i) => theirOrigins[i] === null && names.mine[row] === names.theirs[i] && hasName(mine, row),
    );
    if (twin >= 0) {
      for (const { column, before, now } of changedCells(theirs, theirs.rows[twin]!, mine, mine.rows[row]!))
        conflict(names.mine[row]!, column, texts(undefined, now ?? "", before ?? ""));
      continue;
    }
    placed.splice(placeOf(row, origins, theirRows, rows, placed), 0, { mine: row });
  }
  return { edits: editsFor(name, { mine, theirs }, { rows, gone, placed, cells }), conflicts };
}

/** Mine was given another form (path, decimal sign, fewer columns), or theirs another decimal sign: texts no longer mean the same. */
function isRecast(base: Table, mine: Table, theirs: Table): boolean {
  const lost = base.columns.some((column) => columnPosition(mine.columns, column) < 0);
  const form = ({ path, sheet, decimal }: Table) => JSON.stringify([path, sheet, decimal]);
  return lost || form(base) !== form(mine) || base.decimal !== theirs.decimal;
}

function formOf({ path, decimal, columns }: Table): string {
  return `${path}, decimal ${decimal === "." ? "point" : "comma"}, columns ${columns.join(", ")}`;
}

function namesIn(table: Table): string[] {
  return readingNames(table).map((name, row) => (name === "" ? `row ${row + 1}` : name));
}

function hasName(table: Table, row: number): boolean {
  return readingNames({ ...table, rows: [table.rows[row]!] })[0] !== "";
}

function cellAt(table: Table, row: readonly string[], column: string): string | undefined {
  const index = columnPosition(table.columns, column);
  return index < 0 ? undefined : row[index];
}

function texts(base: string | undefined, mine: string | undefined, theirs: string | undefined) {
  return {
    ...(base !== undefined && { base }),
    ...(mine !== undefined && { mine }),
    ...(theirs !== undefined && { theirs }),
  };
}

/** The cells in which two rows differ, by column; a column that is not there counts as empty. */
function changedCells(a: Table, rowA: readonly string[], b: Table, rowB: readonly string[]) {
  const columns = new Set([...a.columns, ...b.columns].map((column) => column.trim()));
  return [...columns].flatMap((column) => {
    const [before, now] = [cellAt(a, rowA, column), cellAt(b, rowB, column)];
    return (before ?? "") === (now ?? "") ? [] : [{ column, before, now }];
  });
}

/** Behind the nearest row before it that is still there; at the end where nothing of the base stands behind it in mine. */
function placeOf(
  row: number,
  origins: Origins,
  theirRows: ReadonlyMap<number | null, number>,
  rows: readonly Row[],
  placed: readonly Row[],
) {
  if (origins.slice(row).every((origin) => origin === null)) return placed.length;
  for (const [before, origin] of [...origins.slice(0, row).entries()].reverse()) {
    const at = placed.findIndex((there) =>
      origin === null ? there.mine === before : there === rows[theirRows.get(origin) ?? -1],
    );
    if (at >= 0) return at + 1;
  }
  return 0;
}

interface Plan {
  readonly rows: readonly Row[];
  readonly gone: ReadonlySet<Row>;
  readonly placed: readonly Row[];
  readonly cells: readonly { readonly row: Row; readonly column: string; readonly text: string }[];
}

/** First cells where they stand, then rows taken out from the end, then rows put in, then columns that are new. */
function editsFor(name: string, { mine, theirs }: Omit<ThreeTables, "base">, plan: Plan): Edit[] {
  const { rows, gone, placed, cells } = plan;
  const isOld = (column: string) => columnPosition(theirs.columns, column) >= 0;
  const cell = (row: number, column: string, text: string): Edit => ({ cell: { table: name, row, column, text } });
  const edits = cells.filter(({ column }) => isOld(column)).map((it) => cell(it.row.theirs!, it.column, it.text));
  for (let row = rows.length - 1; row >= 0; row--) {
    if (gone.has(rows[row]!)) edits.push({ remove: { table: name, at: row, count: 1 } });
  }
  const final = placed.filter((row) => !gone.has(row));
  for (const [at, row] of final.entries()) {
    if (row.mine === undefined) continue;
    const texts = theirs.columns.map((column) => cellAt(mine, mine.rows[row.mine!]!, column) ?? "");
    edits.push({ insert: { table: name, at, rows: [texts] } });
  }
  for (const column of mine.columns.filter((typed) => !isOld(typed))) {
    const wanted = final.map((row) =>
      row.mine === undefined
        ? (cells.find((it) => it.row === row && it.column === column)?.text ?? "")
        : cellAt(mine, mine.rows[row.mine]!, column)!,
    );
    for (const [row, text] of wanted.entries()) {
      if (text !== "" || row === 0) edits.push(cell(row, column, text));
    }
  }
  return edits;
}
