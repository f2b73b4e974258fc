import type { Column } from "./columns.ts";
import { type ConditionNames, conditionNames } from "./condition-names.ts";
import { type Finding, placeInWords, rowInWords, sourceInWords, type Where } from "./finding.ts";
import { type ColumnPositions, isNeeded, type TableContext } from "./header.ts";
import { type CellValue, cellFinding, isCellFault, readCell } from "./read-cell.ts";
import { shown } from "./shown-text.ts";
import { structureFinding } from "./structure-finding.ts";
import { isBlankRow } from "./table.ts";

/** One row with its cells typed, by column; blank and unreadable cells are absent. */
export interface TypedRow {
  readonly row: number;
  readonly line: number;
  /** The row's place; put together on demand, since only faults ask for it. */
  where(): Where;
  readonly cells: ReadonlyMap<string, CellValue>;
  /** The fitted name of the condition. */
  readonly condition?: string;
  /** The reason for leaving the reading out; absent when it is in force. */
  readonly exclude?: string;
  /** Columns whose cell holds something that cannot be read. */
  readonly unreadable: ReadonlySet<string>;
  /** True when a needed cell is missing or a cell cannot be read. */
  readonly faulty: boolean;
}

/** A column of the series that the table has, and where. */
interface Located {
  readonly column: Column;
  readonly index: number;
  readonly needed: boolean;
}

/** What reading one row needs. */
interface RowContext extends TableContext {
  readonly located: readonly Located[];
  readonly readingIndex: number;
  readonly excludeIndex: number;
  readonly names: ConditionNames;
}

/**
 * Types the rows of a table. Rows in force must be complete and readable, every fault is an error at its cell. Rows that are
 * excluded may hold anything: they are kept, with a notice about cells that cannot be read.
 */
export function readRows(context: TableContext, positions: ColumnPositions): TypedRow[] {
  const { table, findings, where } = context;
  const located = context.columns.flatMap((column): Located[] => {
    const index = positions.get(column.name);
    return index === undefined ? [] : [{ column, index, needed: isNeeded(column, context.hasBackground) }];
  });
  const readingIndex = positions.get("reading") ?? -1;
  const excludeIndex = positions.get("exclude") ?? -1;
  const row = { ...context, located, readingIndex, excludeIndex, names: conditionNames(findings) };
  const rows: TypedRow[] = [];
  const blank: number[] = [];
  table.rows.forEach((cells, i) => {
    if (isBlankRow(cells)) blank.push(i);
    else rows.push(readRow(row, cells, i));
  });
  if (blank.length > 0) {
    const first = blank[0]!;
    const count = blank.length === 1 ? "1 blank row is" : `${blank.length} blank rows are`;
    const message = `${sourceInWords(where)}: ${count} skipped, the first at ${where.sheet === undefined ? "line" : "row"} ${table.lines[first]}.`;
    const at = { ...where, row: first + 1, line: table.lines[first]! };
    findings.add(structureFinding("row-blank", message, { where: at, facts: { blank: blank.length } }));
  }
  return rows;
}

function readRow(context: RowContext, texts: readonly string[], index: number): TypedRow {
  const { table, findings, names } = context;
  const row = index + 1;
  const line = table.lines[index]!;
  const id = (texts[context.readingIndex] ?? "").trim();
  const exclude = (texts[context.excludeIndex] ?? "").trim();
  let condition: string | undefined;
  const where = (): Where => ({
    ...context.where,
    row,
    line,
    ...(id === "" ? {} : { reading: id }),
    ...(condition === undefined ? {} : { condition }),
  });
  const cells = new Map<string, CellValue>();
  const faults: Finding[] = [];
  const unreadable = new Set<string>();
  for (const { column, index: position, needed } of context.located) {
    const text = texts[position]!.trim();
    if (text === "") {
      if (needed) {
        const at = { ...where(), column: column.name };
        faults.push(
          structureFinding("cell-missing", `${placeInWords(at)}: the cell is empty; it is needed.`, { where: at }),
        );
      }
      continue;
    }
    const outcome = readCell(text, column, table.decimal);
    if (isCellFault(outcome)) {
      faults.push(cellFinding(outcome, { ...where(), column: column.name }));
      unreadable.add(column.name);
    } else cells.set(column.name, outcome);
  }
  const typed = cells.get("condition")?.text;
  if (exclude === "") {
    for (const fault of faults) findings.add(fault);
    if (typed !== undefined) condition = names.fit(typed, () => ({ ...where(), row, line, column: "condition" }));
  } else {
    if (unreadable.size > 0) noticeUnreadable([...unreadable], where(), findings);
    condition = typed;
  }
  return {
    row,
    line,
    where,
    cells,
    ...(condition === undefined ? {} : { condition }),
    ...(exclude === "" ? {} : { exclude }),
    unreadable,
    faulty: faults.length > 0,
  };
}

function noticeUnreadable(columns: readonly string[], where: Where, findings: TableContext["findings"]): void {
  const message = `${placeInWords(where)}: the excluded reading has cells that cannot be read (${columns.join(", ")}); they are kept as typed.`;
  findings.add(structureFinding("excluded-unreadable", message, { where: { ...where, column: columns[0]! } }));
}

/** Finds ids that are used twice, in excluded rows as well: one error for each repetition, naming both rows. */
export function checkReadingIds(rows: readonly TypedRow[], findings: TableContext["findings"]): void {
  const firstOf = new Map<string, TypedRow>();
  for (const row of rows) {
    const id = row.cells.get("reading")?.text;
    if (id === undefined) continue;
    const first = firstOf.get(id);
    if (first === undefined) {
      firstOf.set(id, row);
      continue;
    }
    const where = { ...row.where(), column: "reading" };
    const message = `${placeInWords(where)}: the reading ${shown(id)} is already in ${rowInWords(first.where())}.`;
    findings.add(structureFinding("reading-duplicate", message, { where, facts: { otherRow: first.row } }));
  }
}
