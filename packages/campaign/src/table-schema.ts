import { type Column, columnsOf } from "./columns.ts";
import { columnName } from "./header.ts";
import type { TableSeriesKind } from "./read-descriptor.ts";
import type { Table } from "./table.ts";

/** One field of a Table Schema (Data Package standard, version 2), with our unit beside it. */
export interface TableField {
  readonly name: string;
  readonly type: "string" | "number" | "datetime";
  readonly format?: "any";
  readonly description?: string;
  readonly unit?: string;
  readonly decimalChar?: "." | ",";
  readonly constraints?: { readonly required?: true; readonly enum?: readonly string[] };
}

/**
 * The Table Schema of one table, for general tools: one field per column, in the table's order. Columns that are unknown
 * to the series are texts.
 */
export function tableFields(
  series: TableSeriesKind,
  channels: readonly string[],
  table: Pick<Table, "columns" | "decimal">,
): readonly TableField[] {
  const known = columnsOf(series, channels);
  const names = known.map((column) => column.name);
  return table.columns.map((typed) => {
    const column = known[names.indexOf(columnName(typed, names))];
    return column === undefined ? { name: typed, type: "string" } : field(typed, column, table.decimal);
  });
}

function field(name: string, column: Column, decimal: "." | ","): TableField {
  const type = column.kind === "number" ? "number" : column.kind === "time" ? "datetime" : "string";
  return {
    name,
    type,
    ...(type === "datetime" ? { format: "any" as const } : {}),
    description: column.meaning,
    ...(column.unit === undefined ? {} : { unit: column.unit }),
    ...(type === "number" ? { decimalChar: decimal } : {}),
    // Excluded readings may lack everything but their id, so nothing else can be required of general tools.
    ...(column.name === "reading" ? { constraints: { required: true as const } } : {}),
  };
}
