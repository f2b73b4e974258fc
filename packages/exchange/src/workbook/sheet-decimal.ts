import { type Finding, shown, shownName, structureFinding, type Where } from "@alcedo-dosimetry/campaign";
import { columnLetters, type Row } from "@alcedo-dosimetry/tabular/workbook";
import { findDecimalSign } from "../decimal-sign.ts";
import type { CellText, SheetColumn } from "./sheet-cell.ts";

/**
 * The decimal sign of a sheet's numbers. Those that the spreadsheet holds as numbers have none of their own and decide nothing;
 * those that were typed as texts decide, unless numbers with decimals stand beside them: then a comma is left to be refused.
 */
export function sheetDecimal(
  texts: readonly (readonly CellText[])[],
  rows: readonly Row[],
  columns: readonly (SheetColumn & { readonly index: number })[],
  where: Where,
): "." | "," | Finding {
  const exclude = columns.findIndex(({ name }) => name === "exclude");
  const inForce = texts
    .map((row, i) => ({ row, line: rows[i]!.number }))
    .filter(({ row }) => !row[exclude]?.text.trim());
  const numbers = columns.flatMap(({ column, name }, k) => (column?.kind === "number" ? [{ name, k }] : []));
  const cells = inForce.flatMap(({ row, line }) =>
    numbers.flatMap(({ name, k }) => {
      const { text, isNumber } = row[k]!;
      return isNumber || text.trim() === "" ? [] : [{ text: text.trim(), column: name, row: line, line, k }];
    }),
  );
  const hasFractions = inForce.some(({ row }) =>
    numbers.some(({ k }) => row[k]!.isNumber && row[k]!.text.includes(".")),
  );
  if (hasFractions || cells.length === 0) return ".";
  const sign = findDecimalSign(cells, ",");
  if ("decimal" in sign) return sign.decimal;
  const cell = sign.why === "mixed" ? sign.comma : sign.cell;
  const place = columns.find(({ name }) => name === cell.column)!;
  const at = { ...where, line: cell.line, column: cell.column };
  const [code, what] =
    sign.why === "mixed"
      ? ([
          "decimal-mixed",
          `is typed with a comma, ${shown(sign.point.text)} in row ${sign.point.line} with a point`,
        ] as const)
      : ([
          "decimal-ambiguous",
          "may have a decimal comma or divided thousands, and so may every other text here",
        ] as const);
  const message = `sheet ${shownName(where.sheet!)}, ${columnLetters(place.index)}${cell.line}, column ${cell.column}: ${shown(cell.text)} ${what}.`;
  const remedy = "Turn the texts into numbers: format the cells as numbers and type them again.";
  return structureFinding(code, message, { where: at, remedy });
}
