import { type CellStyle, columnLetters, type WrittenCell, type WrittenSheet } from "@alcedo-dosimetry/tabular/workbook";
import type { ResultCell, ResultTable } from "../tables/result-table.ts";
import { significantFormat } from "./number-look.ts";
import { whole } from "./whole-text.ts";

/** A column that the workbook adds to a table: a formula over the cells of its row. */
export interface LiveColumn {
  readonly head: string;
  readonly format: string;
  /** The formula of a row, and what it gives; nothing where the row has no numbers for it. */
  readonly formula: (at: RowCells) => { readonly formula: string; readonly value: number } | undefined;
}

/** The cells of one row, by the names of their columns. */
export interface RowCells {
  /** Address of a cell in this row. */
  cell(name: string): string;
  /** The number in it; undefined where there is none. */
  number(name: string): number | undefined;
  text(name: string): string;
}

/** How a table becomes a sheet. */
export interface SheetLook {
  readonly name: string;
  readonly widths?: Readonly<Record<string, number>>;
  /** Headers in place of the fields' names. */
  readonly heads?: Readonly<Record<string, string>>;
  /** Columns of long texts, which are wrapped. */
  readonly wrapped?: readonly string[];
  readonly live?: readonly LiveColumn[];
  readonly frozenColumns?: number;
  format?(name: string, value: number, row: RowCells): string | undefined;
  style?(row: RowCells): CellStyle;
}

/** Row of the header on every sheet of a table; above it stands the title. */
export const HEADER_ROW = 3;

const DEFAULT_WIDTH = 12;

/** One table as a sheet: title, header that stays in view, rows with the numbers as they are, and live columns behind. */
export function tableSheetOf(table: ResultTable, look: SheetLook): WrittenSheet {
  const { fields, rows } = table;
  const live = look.live ?? [];
  const header = [
    ...fields.map(({ name, unit }) => look.heads?.[name] ?? withUnit(name, unit)),
    ...live.map(({ head }) => head),
  ];
  return {
    name: look.name,
    rows: [
      [{ value: table.title, style: { title: true } }],
      [],
      header.map((value, i): WrittenCell => {
        const align = fields[i]?.type === "string" ? "left" : "right";
        return { value, style: { header: true, wrap: true, align } };
      }),
      ...rows.map((row, i) => {
        const cells = rowCells(table, row, HEADER_ROW + 1 + i);
        const style = look.style?.(cells) ?? {};
        return [
          ...row.map((value, k) => cellOf(value, fields[k]!.name, cells, look, style)),
          ...live.map(({ formula, format }): WrittenCell => {
            const own = formula(cells);
            return own === undefined ? null : { ...own, style: { ...style, format } };
          }),
        ];
      }),
    ],
    columns: [
      ...fields.map(({ name, type }) => ({ width: look.widths?.[name] ?? (type === "string" ? 16 : DEFAULT_WIDTH) })),
      ...live.map(() => ({ width: 15 })),
    ],
    frozen: { rows: HEADER_ROW, columns: look.frozenColumns ?? 1 },
    filterRow: HEADER_ROW,
    landscape: true,
  };
}

function cellOf(value: ResultCell, name: string, row: RowCells, look: SheetLook, style: CellStyle): WrittenCell {
  if (value === null) return null;
  if (typeof value === "string")
    return { value: whole(value), style: look.wrapped?.includes(name) ? { ...style, wrap: true } : style };
  const format = look.format?.(name, value, row) ?? (Number.isInteger(value) ? undefined : significantFormat(value, 6));
  return { value, style: { ...style, ...(format !== undefined && { format }) } };
}

/** The cells of one row of a table whose sheet has it in that row. */
export function rowCells({ fields }: ResultTable, row: readonly ResultCell[], number: number): RowCells {
  const index = (name: string) => {
    const found = fields.findIndex((field) => field.name === name);
    if (found < 0) throw new Error(`there is no column ${name}`);
    return found;
  };
  return {
    cell: (name) => `${columnLetters(index(name))}${number}`,
    number: (name) => {
      const value = row[index(name)];
      return typeof value === "number" ? value : undefined;
    },
    text: (name) => String(row[index(name)] ?? ""),
  };
}

function withUnit(name: string, unit: string | undefined): string {
  return unit === undefined || name.endsWith(`_${unit}`) ? name : `${name} (${unit})`;
}
