import { columnAt, type Table } from "@alcedo-dosimetry/campaign";
import { asTable } from "../look/decimal-sign.ts";
import type { Mapping } from "./recognise.ts";

/** What a block becomes: rows for a table, and columns that the table has to get first. */
export interface BlockRows {
  /** Columns that the table lacks, in the order of the block. */
  readonly added: readonly string[];
  /** Cells in the order of the table's columns, the added ones behind them. */
  readonly rows: readonly (readonly string[])[];
}

/** How a block is to be taken. */
export interface Taking {
  readonly mapping: Mapping;
  /** The decimal sign of the block's numbers. */
  readonly decimal: "." | ",";
  /** What stands in every row of a column that the block lacks. */
  readonly constants: Readonly<Record<string, string>>;
}

/**
 * Rows for a table out of the cells of a block, without its header. Numbers take the table's decimal sign, all else stays as
 * it was; readings without a name are numbered on.
 */
export function blockRows(
  table: Pick<Table, "columns" | "rows" | "decimal">,
  cells: readonly (readonly string[])[],
  { mapping, decimal, constants }: Taking,
): BlockRows {
  const given = Object.entries(constants).filter(([, text]) => text.trim() !== "");
  const wanted = [...mapping.filter((name) => name !== null), ...given.map(([name]) => name), "reading"];
  const added = [...new Set(wanted)].filter((name) => columnAt(table.columns, name) < 0);
  const columns = [...table.columns, ...added];
  const place = (name: string) => columnAt(columns, name);
  const readingAt = place("reading");
  const taken = new Set(readingAt < table.columns.length ? table.rows.map((row) => row[readingAt]!.trim()) : []);
  const next = numberedOn(taken);
  return {
    added,
    rows: cells.map((row) => {
      const cellsOfRow = columns.map(() => "");
      for (const [name, text] of given) cellsOfRow[place(name)] = text.trim();
      mapping.forEach((name, k) => {
        const cell = row[k] ?? "";
        if (name !== null && cell !== "") cellsOfRow[place(name)] = inDecimal(cell, decimal, table.decimal);
      });
      if (cellsOfRow[readingAt] === "") cellsOfRow[readingAt] = next();
      return cellsOfRow;
    }),
  };
}

/** A number of the block with the table's sign; anything that is no number of the block's stays as it is. */
export function inDecimal(cell: string, from: "." | ",", to: "." | ","): string {
  if (from === to) return cell;
  const number = from === "," ? /^[+-]?\d*,?\d+(?:[eE][+-]?\d+)?$/ : /^[+-]?\d*\.?\d+(?:[eE][+-]?\d+)?$/;
  return number.test(cell) ? asTable(cell, to) : cell;
}

/** Names for readings, after those that there are: `r007` → `r008`; `r001` where there is none. */
export function numberedOn(taken: ReadonlySet<string>): () => string {
  const last = [...taken].flatMap((name) => /^(.*?)(\d+)$/.exec(name) ?? []).slice(-3);
  const [prefix, digits] = last.length === 3 ? [last[1]!, last[2]!] : ["r", "000"];
  let count = Number(digits);
  return () => {
    for (;;) {
      count += 1;
      const name = prefix + String(count).padStart(digits.length, "0");
      if (!taken.has(name)) return name;
    }
  };
}
