/** A cell that bears on the decimal sign. */
export interface NumberCell {
  readonly text: string;
  readonly column: string;
  /** Row of the table from 1. */
  readonly row: number;
  readonly line: number;
}

/** The decimal sign, or why it cannot be told, with the cells that show it. */
export type DecimalSign =
  | { readonly decimal: "." | "," }
  | { readonly why: "mixed"; readonly point: NumberCell; readonly comma: NumberCell }
  | { readonly why: "ambiguous"; readonly cell: NumberCell };

const ONE_SIGN = /^[+-]?\d*[.,]\d*(?:[eE][+-]?\d+)?$/;
/** `1,234` or `12.500`: with such digits alone the sign may divide thousands. */
const MAYBE_THOUSANDS = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;
/** `12345`: whoever divides thousands would have divided these. */
const LONG_INTEGER = /^[+-]?\d{4,}$/;

/**
 * Finds a table's decimal sign from all its number cells. Cells with one point or comma decide, unless the sign could as well
 * divide thousands. When every one of them could, nothing decides, and no guess is made, with two exceptions: an integer of
 * four or more undivided digits in the same column shows that thousands are not divided there; and in a comma-delimited
 * file a point is a decimal point, since who writes decimal commas does not delimit with commas.
 *
 * Cells with several signs (`1.234,5`) or other content do not count: reading them as numbers names their faults.
 */
export function findDecimalSign(cells: readonly NumberCell[], delimiter: string): DecimalSign {
  let point: NumberCell | undefined;
  let comma: NumberCell | undefined;
  let decided = false;
  const undivided = new Set(cells.filter((cell) => LONG_INTEGER.test(cell.text)).map((cell) => cell.column));
  for (const cell of cells) {
    if (!ONE_SIGN.test(cell.text) || !/\d/.test(cell.text)) continue;
    if (cell.text.includes(",")) comma ??= cell;
    else point ??= cell;
    if (!MAYBE_THOUSANDS.test(cell.text) || undivided.has(cell.column)) decided = true;
  }
  if (point !== undefined && comma !== undefined) return { why: "mixed", point, comma };
  const cell = point ?? comma;
  if (cell === undefined || decided || (cell === point && delimiter === ","))
    return { decimal: comma === undefined ? "." : "," };
  return { why: "ambiguous", cell };
}
