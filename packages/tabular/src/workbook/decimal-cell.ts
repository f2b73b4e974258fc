import { paddedDecimal } from "../decimal-text.ts";
import type { StyledCell } from "./written-workbook.ts";

/** Decimals that a number format can show. */
const MOST_DECIMALS = 30;

/**
 * The text of a number (decimal point, as typed) as a cell that a spreadsheet computes with and that still shows every decimal as
 * typed: `6.500` is 6.5 in the format `0.000`.
 *
 * @returns `undefined` where a number in a format would not show just this text: `+6.5`, `1e3`, `007`, more digits than a
 *   double holds
 */
export function decimalCell(text: string): StyledCell | undefined {
  const match = /^-?(?:0|[1-9]\d*)(?:\.(\d+))?$/.exec(text);
  if (match === null) return undefined;
  const decimals = match[1]?.length ?? 0;
  const value = Number(text);
  if (decimals > MOST_DECIMALS || paddedDecimal(String(value), decimals) !== text) return undefined;
  return decimals === 0 ? { value } : { value, style: { format: `0.${"0".repeat(decimals)}` } };
}
