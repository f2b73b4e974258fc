import { columnPosition, type Edit } from "./edits.ts";
import type { Table } from "./table.ts";

/** For each row of a table after changes, the row before them that it was, from 0; null for a new one. */
export type Origins = readonly (number | null)[];

/** Follows the rows of one table through edits. */
export function originsAfter(base: Table | undefined, edits: readonly Edit[], name: string): Origins {
  let origins: (number | null)[] = (base?.rows ?? []).map((_, row) => row);
  for (const edit of edits) {
    if ("insert" in edit && edit.insert.table === name) {
      const { at, rows } = edit.insert;
      origins = [...origins.slice(0, at), ...rows.map(() => null), ...origins.slice(at)];
    } else if ("remove" in edit && edit.remove.table === name) {
      const { at, count } = edit.remove;
      origins = [...origins.slice(0, at), ...origins.slice(at + count)];
    } else if ("put" in edit && edit.put.name === name) {
      origins = edit.put.table === undefined || base === undefined ? [] : [...matchRows(base, edit.put.table)];
      if (edit.put.table !== undefined && base === undefined) origins = edit.put.table.rows.map(() => null);
    }
  }
  return origins;
}

/**
 * For each row of a table the row of an earlier state that it was: by the name of its reading where that name stands once in
 * both; else by equal content; else, where as many rows stand between the same neighbours, by place, if none of them has a
 * name that could tell, or nothing but the name differs.
 */
export function matchRows(before: Table, after: Table): Origins {
  const origins: (number | null)[] = after.rows.map(() => null);
  const [here, there] = [namesOnce(before), namesOnce(after)];
  for (const [name, row] of there) origins[row] = here.get(name) ?? null;
  matchEqual(before, after, origins);
  matchByPlace(before, after, origins);
  return origins;
}

/** The row of each reading whose name stands once. */
function namesOnce(table: Table): Map<string, number> {
  const rows = new Map<string, number>();
  const often = new Set<string>();
  for (const [row, name] of readingNames(table).entries()) {
    if (name === "" || rows.has(name)) often.add(name);
    rows.set(name, row);
  }
  for (const name of often) rows.delete(name);
  return rows;
}

/** The reading's name in each row, empty where there is none. */
export function readingNames({ columns, rows }: Table): string[] {
  const column = columnPosition(columns, "reading");
  return rows.map((row) => (column < 0 ? "" : row[column]!.trim()));
}

/** Rows of equal content in the order in which they come. */
function matchEqual(before: Table, after: Table, origins: (number | null)[]) {
  const taken = new Set(origins);
  const left = new Map<string, number[]>();
  for (const [row, cells] of before.rows.entries()) {
    if (!taken.has(row)) left.set(content(before, cells), [...(left.get(content(before, cells)) ?? []), row]);
  }
  for (const [row, cells] of after.rows.entries()) {
    if (origins[row] === null) origins[row] = left.get(content(after, cells))?.shift() ?? null;
  }
}

/** The cells that are not empty, by column. */
function content({ columns }: Table, cells: readonly string[]): string {
  const texts = cells.flatMap((text, i) => (text === "" ? [] : [JSON.stringify([columns[i]!.trim(), text])]));
  return texts.sort((a, b) => (a < b ? -1 : 1)).join();
}

function matchByPlace(before: Table, after: Table, origins: (number | null)[]) {
  const taken = new Set(origins);
  const [here, there] = [readingNames(before), readingNames(after)];
  let start = 0;
  for (let row = 0; row <= origins.length; row++) {
    if (row < origins.length && origins[row] === null) continue;
    const first = (start === 0 ? -1 : origins[start - 1]!) + 1;
    const end = row === origins.length ? before.rows.length : origins[row]!;
    const isGap =
      end - first === row - start &&
      Array.from({ length: row - start }, (_, i) => i).every((i) => !taken.has(first + i));
    for (let i = 0; isGap && i < row - start; i++) {
      const [was, is] = [first + i, start + i];
      const nameless = here[was] === "" && there[is] === "";
      if (nameless || isRenamed(before, before.rows[was]!, after, after.rows[is]!)) origins[is] = was;
    }
    start = row + 1;
  }
}

/** Whether nothing but the name of the reading differs. */
function isRenamed(before: Table, was: readonly string[], after: Table, is: readonly string[]): boolean {
  const withoutName = (table: Table, cells: readonly string[]) => {
    const column = columnPosition(table.columns, "reading");
    return content(
      table,
      cells.map((text, i) => (i === column ? "" : text)),
    );
  };
  return withoutName(before, was) === withoutName(after, is);
}
