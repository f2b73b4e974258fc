import { readReference } from "./cell-reference.ts";
import { unescapedText } from "./escaped-text.ts";
import type { NumberFormat } from "./number-format.ts";
import type { Cell, CellContent, Row, Sheet } from "./workbook.ts";
import { WorkbookFault } from "./workbook-fault.ts";
import { isTrue, type WorkbookParts } from "./workbook-parts.ts";
import { readXml } from "./xml-events.ts";

/** How much of a sheet is read. */
export interface SheetLimits {
  readonly rows: number;
  readonly columns: number;
}

const GENERAL: NumberFormat = { shows: "number", decimals: 0 };

/** A row as it is being read. */
interface OpenRow {
  number: number;
  hidden: boolean;
  cells: Cell[];
}

/** Takes one sheet's XML apart (ECMA-376 part 1, 18.3.1): rows and cells that hold something, merged ranges, what is hidden. */
export function readSheet(
  text: string,
  sheet: WorkbookParts["sheets"][number],
  { sharedTexts, formats }: WorkbookParts,
  limits: SheetLimits,
): Sheet {
  const rows: Row[] = [];
  const merged: string[] = [];
  const hiddenColumns: number[] = [];
  let beyond: "rows" | "columns" | undefined;
  let row: OpenRow = { number: 0, hidden: false, cells: [] };
  let column = -1;
  let cell: { type: string; style: string; formula: boolean; value: string | undefined } | undefined;
  let taking: "value" | "inline" | undefined;
  let phonetic = false;

  readXml(text, sheet.part, {
    open(name, attributes) {
      switch (name) {
        case "row":
          row = {
            number: rowNumber(attributes["r"], row.number, sheet),
            hidden: isTrue(attributes["hidden"]),
            cells: [],
          };
          column = -1;
          return;
        case "c":
          column = cellColumn(attributes["r"], column, row.number, sheet);
          cell = { type: attributes["t"] ?? "n", style: attributes["s"] ?? "0", formula: false, value: undefined };
          return;
        case "f":
          if (cell !== undefined) cell.formula = true;
          return;
        case "v":
          taking = "value";
          return;
        case "rPh":
          phonetic = true;
          return;
        case "t":
          if (!phonetic) taking = "inline";
          return;
        case "mergeCell":
          merged.push(attributes["ref"] ?? "");
          return;
        case "col":
          if (isTrue(attributes["hidden"])) hiddenColumns.push(...columnRange(attributes, limits.columns));
      }
    },
    text(more) {
      if (taking !== undefined && cell !== undefined) cell.value = (cell.value ?? "") + more;
    },
    close(name) {
      if (name === "rPh") phonetic = false;
      if (name === "v" || name === "t") taking = undefined;
      if (name === "row" && row.cells.length > 0) {
        if (rows.length < limits.rows) rows.push(row);
        else beyond = "rows";
      }
      if (name !== "c" || cell === undefined) return;
      const content = contentOf(cell, sharedTexts, sheet);
      if (content !== undefined) {
        if (column >= limits.columns) beyond ??= "columns";
        else if (rows.length < limits.rows)
          row.cells.push({ column, content, format: formats[Number(cell.style)] ?? GENERAL, formula: cell.formula });
        else beyond = "rows";
      }
      cell = undefined;
    },
  });
  const { name, hidden } = sheet;
  return { name, hidden, rows, hiddenColumns, merged, ...(beyond !== undefined && { beyond }) };
}

type SheetPart = WorkbookParts["sheets"][number];

const damaged = (sheet: SheetPart, what: string) =>
  new WorkbookFault("damaged", `the file is damaged: in the sheet ${JSON.stringify(sheet.name)} ${what}`);

/** Rows may leave their number out, and then follow one another; a row that goes back would overwrite another. */
function rowNumber(stated: string | undefined, before: number, sheet: SheetPart): number {
  const number = stated === undefined ? before + 1 : Number(stated);
  if (!Number.isInteger(number) || number <= before) throw damaged(sheet, `the row ${stated} is out of order`);
  return number;
}

function cellColumn(stated: string | undefined, before: number, row: number, sheet: SheetPart): number {
  if (stated === undefined) return before + 1;
  const place = readReference(stated);
  if (place?.row !== row || place.column <= before) throw damaged(sheet, `the cell ${stated} is out of order`);
  return place.column;
}

function columnRange({ min, max }: Readonly<Record<string, string>>, most: number): number[] {
  const [first, last] = [Number(min) - 1, Math.min(Number(max), most) - 1];
  return first >= 0 && last >= first ? Array.from({ length: last - first + 1 }, (_, i) => first + i) : [];
}

function contentOf(
  { type, formula, value }: { type: string; formula: boolean; value: string | undefined },
  sharedTexts: readonly string[],
  sheet: SheetPart,
): CellContent | undefined {
  if (value === undefined || (value === "" && type !== "str" && type !== "inlineStr"))
    return formula ? { kind: "uncomputed" } : undefined;
  switch (type) {
    case "s": {
      const text = sharedTexts[Number(value)];
      if (text === undefined) throw damaged(sheet, `a cell names the shared text ${value}, which is not there`);
      return text === "" ? undefined : { kind: "text", text };
    }
    case "str":
    case "inlineStr": {
      const text = unescapedText(value);
      return text === "" ? undefined : { kind: "text", text };
    }
    case "b":
      return { kind: "boolean", value: isTrue(value.trim()) };
    case "e":
      return { kind: "error", text: value };
    case "d":
      return { kind: "iso-date", text: value };
    default: {
      const number = Number(value);
      if (value.trim() === "" || !Number.isFinite(number)) throw damaged(sheet, `a cell holds the number ${value}`);
      return { kind: "number", text: String(number) };
    }
  }
}
