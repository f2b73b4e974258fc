import type { NumberFormat } from "./number-format.ts";

/** What one cell holds, as a workbook stores it. A number is its shortest text that reads back as the same double. */
export type CellContent =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "number"; readonly text: string }
  | { readonly kind: "boolean"; readonly value: boolean }
  /** A date that the file holds as text of ISO 8601. */
  | { readonly kind: "iso-date"; readonly text: string }
  /** `#DIV/0!` and the like. */
  | { readonly kind: "error"; readonly text: string }
  /** A formula whose value was never stored. */
  | { readonly kind: "uncomputed" };

/** A cell that is not empty. */
export interface Cell {
  /** Place in the row, from 0. */
  readonly column: number;
  readonly content: CellContent;
  readonly format: NumberFormat;
  /** True when a formula gave the content. */
  readonly formula: boolean;
}

/** A row that holds something. */
export interface Row {
  /** As the spreadsheet counts, from 1. */
  readonly number: number;
  readonly hidden: boolean;
  readonly cells: readonly Cell[];
}

/** A sheet of cells; sheets of other kinds (charts) hold none and are left out. */
export interface Sheet {
  readonly name: string;
  readonly hidden: boolean;
  readonly rows: readonly Row[];
  /** Columns that are hidden, from 0. */
  readonly hiddenColumns: readonly number[];
  /** Ranges of merged cells, such as `A1:C1`. */
  readonly merged: readonly string[];
  /** Set where reading stopped, because the sheet is larger than was allowed. */
  readonly beyond?: "rows" | "columns";
}

/** A workbook's sheets, in order. */
export interface Workbook {
  readonly sheets: readonly Sheet[];
  /** True when its dates are counted from 1904. */
  readonly from1904: boolean;
}
