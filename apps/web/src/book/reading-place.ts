import { type Campaign, columnAt, type Edit, type Table } from "@alcedo-dosimetry/campaign";

/** The row of a reading in a table, from 0, by the reading's name; -1 where there is none. */
export function rowOf(table: Table, reading: string): number {
  const at = columnAt(table.columns, "reading");
  return at < 0 ? -1 : table.rows.findIndex((row) => row[at]!.trim() === reading);
}

/** The edit that puts a text into a cell named by reading and column; undefined where the reading is gone. */
export function cellEditAt(
  { tables }: Campaign,
  { table: name, reading, column }: { readonly table: string; readonly reading: string; readonly column: string },
  text: string,
): Edit | undefined {
  const table = tables[name];
  const row = table ? rowOf(table, reading) : -1;
  return row < 0 ? undefined : { cell: { table: name, row, column, text } };
}
