/** Columns of a sheet in the file format (ECMA-376, 18.3.1): `A` to `XFD`. */
const LAST_COLUMN = 16_384;

/** The letters of a column counted from 0: `A`, `Z`, `AA`. */
export function columnLetters(column: number): string {
  let letters = "";
  for (let rest = column + 1; rest > 0; rest = Math.floor((rest - 1) / 26))
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  return letters;
}

/** A cell's address: `B3` for column 1 (from 0) and row 3 (from 1). */
export function cellReference(column: number, row: number): string {
  return `${columnLetters(column)}${row}`;
}

/** Column (from 0) and row (from 1) of an address without dollar signs; `undefined` for anything else. */
export function readReference(reference: string): { readonly column: number; readonly row: number } | undefined {
  const match = /^([A-Z]{1,3})([1-9]\d{0,6})$/.exec(reference);
  if (match === null) return undefined;
  let column = 0;
  for (const letter of match[1]!) column = column * 26 + letter.charCodeAt(0) - 64;
  return column > LAST_COLUMN ? undefined : { column: column - 1, row: Number(match[2]) };
}
