import type { Table } from "@alcedo-dosimetry/campaign";
import type { SeriesName } from "./shot.ts";

/** A row as it was written down: the text of each cell by its column. */
export type Row = Readonly<Record<string, string>>;

/** One table on the physicist's desk. */
export interface Sheet {
  readonly series: SeriesName;
  readonly columns: readonly string[];
  readonly rows: readonly Row[];
}

/** A number with so many decimals, as it is written down; never a negative zero. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return /^-0\.?0*$/.test(text) ? text.slice(1) : text;
}

/** The number in a cell, changed, with as many decimals as before. */
export function changed(cell: string, change: (value: number) => number): string {
  const decimals = /\.(\d*)$/.exec(cell)?.[1]?.length ?? 0;
  return fixed(change(Number(cell)), decimals);
}

/** The sheet as the table of a campaign. */
export function tableOf({ series, columns, rows }: Sheet): Table {
  return {
    path: `${series}.csv`,
    decimal: ".",
    columns,
    rows: rows.map((row) => columns.map((column) => row[column] ?? "")),
    lines: rows.map((_, i) => i + 2),
  };
}
