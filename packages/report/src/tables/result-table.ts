/** What stands in one cell: a text, a number at full precision, or nothing. */
export type ResultCell = string | number | null;

/** One column of a table, with what a table schema says of it. */
export interface ResultField {
  readonly name: string;
  readonly type: "string" | "number" | "integer" | "datetime";
  readonly description: string;
  readonly unit?: string;
}

/** One table of an evaluation, as plain data: the single source of the workbook's sheets and of the CSV files. */
export interface ResultTable {
  readonly name: string;
  readonly title: string;
  readonly fields: readonly ResultField[];
  readonly rows: readonly (readonly ResultCell[])[];
}

/** A column of numbers. */
export function numberField(name: string, description: string, unit?: string): ResultField {
  return { name, type: "number", description, ...(unit !== undefined && { unit }) };
}

/** A column of texts. */
export function textField(name: string, description: string): ResultField {
  return { name, type: "string", description };
}
