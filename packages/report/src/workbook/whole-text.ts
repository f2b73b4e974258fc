import { CELL_LIMIT } from "@alcedo-dosimetry/tabular/workbook";

/** A text that a cell can hold; of a longer one the rest is said to be missing. */
export function whole(text: string): string {
  if (text.length <= CELL_LIMIT) return text;
  const kept = CELL_LIMIT - 100;
  return `${text.slice(0, kept)} [… ${text.length - kept} more characters: a cell holds no more; the CSV tables have them]`;
}
