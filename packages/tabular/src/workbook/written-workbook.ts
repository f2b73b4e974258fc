/** How a cell looks. */
export interface CellStyle {
  /** Code of a number format, such as `0.0000`; `@` keeps what is typed as text. */
  readonly format?: string;
  readonly bold?: true;
  /** Small print: grey and slanted. */
  readonly quiet?: true;
  readonly title?: true;
  readonly header?: true;
  readonly warning?: true;
  readonly wrap?: true;
  readonly align?: "left" | "right" | "center";
}

/** What a cell holds; a formula is written by the program and never made of a text that came from outside. */
export interface StyledCell {
  readonly value: string | number | boolean | null;
  /** Without the equals sign; `value` is what it gives, for programs that do not compute. */
  readonly formula?: string;
  readonly style?: CellStyle;
}

/** One cell: a text (never a formula), a number, nothing, or any of these with a style. */
export type WrittenCell = string | number | boolean | null | StyledCell;

/** One sheet to be written. */
export interface WrittenSheet {
  readonly name: string;
  readonly rows: readonly (readonly WrittenCell[])[];
  /** Widths of the columns in characters, and a style for cells that are still empty. */
  readonly columns?: readonly { readonly width: number; readonly style?: CellStyle }[];
  /** Rows and columns that stay in view. */
  readonly frozen?: { readonly rows?: number; readonly columns?: number };
  /** Row (from 1) whose cells filter the rows beneath. */
  readonly filterRow?: number;
  /** Print across rather than upright. */
  readonly landscape?: true;
}
