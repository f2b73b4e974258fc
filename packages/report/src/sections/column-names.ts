import { columnName, columnsOf, type Table, type TableSeriesKind } from "@alcedo-dosimetry/campaign";

/** The names of a table's columns as its series knows them, in the file's order. */
export function columnNames(table: Table, series: TableSeriesKind, channels: readonly string[]): readonly string[] {
  const known = columnsOf(series, channels).map(({ name }) => name);
  return table.columns.map((typed) => columnName(typed, known));
}
