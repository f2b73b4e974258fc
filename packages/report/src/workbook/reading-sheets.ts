import { type Campaign, columnName, columnsOf, isNumberText, outlineOf } from "@alcedo-dosimetry/campaign";
import { type CellStyle, decimalCell, type WrittenCell, type WrittenSheet } from "@alcedo-dosimetry/tabular/workbook";
import { whole } from "./whole-text.ts";

/** One sheet per series with the readings as typed; those left out are in small print. */
export function readingSheets({ descriptor, tables }: Campaign): readonly WrittenSheet[] {
  const outline = outlineOf(descriptor);
  return (outline?.resources ?? []).flatMap(({ name, series }): WrittenSheet[] => {
    const table = Object.hasOwn(tables, name) ? tables[name] : undefined;
    if (table === undefined) return [];
    const known = columnsOf(series, outline?.channels ?? []);
    const names = known.map((column) => column.name);
    const columns = table.columns.map((typed) => known[names.indexOf(columnName(typed, names))]);
    const exclude = columns.findIndex((column) => column?.name === "exclude");
    const rows = table.rows.map((row) => {
      const style: CellStyle = (row[exclude] ?? "").trim() === "" ? {} : { quiet: true };
      return row.map((text, i) => typedCell(text, columns[i]?.kind === "number", table.decimal, style));
    });
    return [
      {
        name: `readings ${series}`,
        rows: [
          table.columns.map((value, i): WrittenCell => {
            const align = columns[i]?.kind === "number" ? "right" : "left";
            return { value: whole(value), style: { header: true, align } };
          }),
          ...rows,
        ],
        columns: columns.map((column, i) => ({ width: widthOf(table.columns[i]!, column?.kind) })),
        frozen: { rows: 1, columns: Math.min(2, columns.length) },
        landscape: true,
      },
    ];
  });
}

function typedCell(text: string, isNumber: boolean, decimal: "." | ",", style: CellStyle): WrittenCell {
  if (text === "") return null;
  const number = isNumber && isNumberText(text, decimal) ? decimalCell(text.replace(",", ".")) : undefined;
  if (number !== undefined) return { value: number.value, style: { ...style, ...number.style } };
  return { value: whole(text), style: text.length > 40 ? { ...style, wrap: true } : style };
}

function widthOf(name: string, kind: string | undefined): number {
  const usual = kind === "time" ? 27 : name === "note" || name === "exclude" ? 34 : kind === "number" ? 10 : 16;
  return Math.min(40, Math.max(usual, name.length + 3));
}
