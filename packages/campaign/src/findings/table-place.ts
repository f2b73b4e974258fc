import { sourceInWords, type Where } from "../finding.ts";
import type { PointSeries, Reading } from "../reading.ts";

/** The place of one reading of a series, for a finding. */
export function readingPlace(table: PointSeries<Reading>, { row, line }: Reading): Where & { readonly file: string } {
  const { file, sheet } = table;
  return { file, ...(sheet !== undefined && { sheet }), row, line };
}

/** The same in a word or two: `separation.csv, row 4`; of a sheet the row as the spreadsheet counts. */
export function readingPlaceInWords(table: PointSeries<Reading>, reading: Reading): string {
  return `${sourceInWords(table)}, row ${table.sheet === undefined ? reading.row : reading.line}`;
}
