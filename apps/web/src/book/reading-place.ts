import { type Campaign, columnName, type Edit, type Table } from "@alcedo-dosimetry/campaign";

/** Where a column stands in a table, by its name; -1 where it does not. */
export function columnAt({ columns }: Pick<Table, "columns">, name: string): number {
  return columns.findIndex((typed) => columnName(typed, [name]) === name);
}

/** The row of a reading in a table, from 0, by the reading's name; -1 where there is none. */
export function rowOf(table: Table, reading: string): number {
  const at = columnAt(table, "reading");
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
