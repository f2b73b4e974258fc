/**
 * One table of a campaign, with the text of every cell as it was typed: nothing rounded, repaired or dropped.
 *
 * A row in which every cell is blank is kept too, so that `rows[row - 1]` is the row that findings call `row`.
 */
export interface Table {
  /** POSIX path of the table's file inside the campaign folder. */
  readonly path: string;
  /** The sheet that the table was read from, where the campaign came from a workbook; `lines` are then its rows. */
  readonly sheet?: string;
  /** The decimal sign of the numbers in this table's text. */
  readonly decimal: "." | ",";
  /** Column names as typed, in the file's order. */
  readonly columns: readonly string[];
  /** One list of cell texts per reading, as long as `columns`. Line breaks inside a cell are `\n`. */
  readonly rows: readonly (readonly string[])[];
  /** The physical line in the file at which each row starts, from 1. */
  readonly lines: readonly number[];
}

/** Readings that a table may hold; larger tables are refused before they are taken apart. */
export const ROW_LIMIT = 100_000;

/** True when every cell of a row is empty or blank. */
export function isBlankRow(row: readonly string[]): boolean {
  return row.every((cell) => cell.trim() === "");
}
