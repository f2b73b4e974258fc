import { ROW_LIMIT } from "@alcedo-dosimetry/campaign";
import { COLUMN_LIMIT, readRecords } from "@alcedo-dosimetry/tabular";

/** A rectangle of cells as a spreadsheet puts it on the clipboard; every row has the same number of cells. */
export interface Block {
  readonly cells: readonly (readonly string[])[];
  readonly width: number;
}

/** What stands in the way of reading a block. */
export interface BlockFault {
  readonly fault: string;
}

/**
 * Reads what a spreadsheet puts on the clipboard: cells with tabs between them, rows with line breaks, quotation marks about
 * cells that hold either. Blank rows at the end are no rows; shorter rows are filled up with empty cells.
 */
export function parseBlock(text: string): Block | BlockFault {
  const plain = text.replace(/\r\n?/g, "\n");
  const { records, stop } = readRecords(plain, delimiterOf(plain), { records: ROW_LIMIT, fields: COLUMN_LIMIT });
  if (stop.why === "quotes") return { fault: `Row ${stop.line}: ${stop.message}.` };
  if (stop.why !== "end") return { fault: `A block has at most ${ROW_LIMIT} rows and ${COLUMN_LIMIT} columns.` };
  const last = records.findLastIndex((row) => row.some((cell) => cell.trim() !== ""));
  const rows = records.slice(0, last + 1);
  const width = rows.reduce((most, row) => Math.max(most, row.length), 0);
  return {
    width,
    cells: rows.map((row) =>
      [...row, ...Array.from({ length: width - row.length }, () => "")].map((cell) => cell.trim()),
    ),
  };
}

/** Spreadsheets write tabs; a text file that is pasted may have semicolons or commas. */
function delimiterOf(text: string): string {
  const first = text.slice(0, text.search(/\n|$/));
  return ["\t", ";", ","].find((sign) => first.includes(sign)) ?? "\t";
}

/** The decimal sign of a block's numbers, told by its cells; undefined where none of them says. */
export function decimalOf({ cells }: Block): "." | "," | undefined {
  let [points, commas] = [0, 0];
  for (const row of cells)
    for (const cell of row) {
      if (/^[+-]?\d*\.\d+(?:[eE][+-]?\d+)?$/.test(cell)) points++;
      else if (/^[+-]?\d*,\d+(?:[eE][+-]?\d+)?$/.test(cell)) commas++;
    }
  if (points === commas) return undefined;
  return points > commas ? "." : ",";
}
