import {
  columnsOf,
  type Finding,
  isBlankRow,
  type OutlineResource,
  rowAndLine,
  shown,
  shownName,
  structureFinding,
  type Table,
  type Where,
} from "@alcedo-dosimetry/campaign";
import { findDecimalSign, type NumberCell } from "./decimal-sign.ts";

type FileWhere = Where & { readonly file: string };

/** The decimal sign that a resource's schema states (`decimalChar` of its fields), if any. */
export function declaredDecimal(resource: OutlineResource, where: FileWhere): "." | "," | Finding | undefined {
  const stated = new Map<string, string>();
  for (const field of resource.resource.schema?.fields ?? []) {
    if (field.decimalChar !== undefined && !stated.has(field.decimalChar)) stated.set(field.decimalChar, field.name);
  }
  const point = stated.get(".");
  const comma = stated.get(",");
  if (point !== undefined && comma !== undefined) {
    const message = `${shownName(where.file)}: the resource states a decimal point for ${shownName(point)} and a decimal comma for ${shownName(comma)}.`;
    return structureFinding("decimal-declared", message, { where });
  }
  return comma !== undefined ? "," : point !== undefined ? "." : undefined;
}

/** The decimal sign found by looking at the number cells of the readings in force. */
export function tableDecimal(
  table: Omit<Table, "decimal">,
  resource: OutlineResource,
  channels: readonly string[],
  delimiter: string,
  nameOf: (typed: string) => string,
  where: FileWhere,
): "." | "," | Finding {
  const sign = findDecimalSign(numberCells(table, resource, channels, nameOf), delimiter);
  if ("decimal" in sign) return sign.decimal;
  const file = shownName(where.file);
  if (sign.why === "mixed") {
    const { point, comma } = sign;
    const message = `${file}: ${shown(point.text)} in ${place(point)} has a point, ${shown(comma.text)} in ${place(comma)} a comma.`;
    const remedy = "Use one decimal sign throughout, and no separators between thousands.";
    return structureFinding("decimal-mixed", message, {
      where: cellWhere(where, comma),
      remedy,
      facts: { otherRow: point.row },
    });
  }
  const { cell } = sign;
  const mark = cell.text.includes(",") ? "comma" : "point";
  const message = `${file}: the ${mark} in ${shown(cell.text)} (${place(cell)}) may be a decimal sign or divide thousands, and so may every other one in this table.`;
  const remedy = `State the decimal sign in ${resource.name}'s resource: "schema": { "fields": [{ "name": ${JSON.stringify(cell.column)}, "type": "number", "decimalChar": ${mark === "comma" ? '","' : '"."'} }] }; or write one number with another count of decimals.`;
  return structureFinding("decimal-ambiguous", message, { where: cellWhere(where, cell), remedy });
}

function numberCells(
  table: Omit<Table, "decimal">,
  resource: OutlineResource,
  channels: readonly string[],
  nameOf: (typed: string) => string,
): NumberCell[] {
  const numbers = new Set(
    columnsOf(resource.series, channels).flatMap(({ name, kind }) => (kind === "number" ? [name] : [])),
  );
  const names = table.columns.map(nameOf);
  const exclude = names.indexOf("exclude");
  const cells: NumberCell[] = [];
  table.rows.forEach((row, i) => {
    if (isBlankRow(row) || (row[exclude] ?? "").trim() !== "") return;
    names.forEach((column, k) => {
      const text = row[k]!.trim();
      if (text !== "" && numbers.has(column)) cells.push({ text, column, row: i + 1, line: table.lines[i]! });
    });
  });
  return cells;
}

function place(cell: NumberCell): string {
  return `${rowAndLine(cell.row, cell.line)}, column ${cell.column}`;
}

function cellWhere(where: FileWhere, cell: NumberCell): Where {
  return { ...where, row: cell.row, line: cell.line, column: cell.column };
}
