import { type Evaluation, plain } from "@alcedo-dosimetry/campaign";
import type { Attribution } from "@alcedo-dosimetry/metrology";

/** What one changed input was on either side: `12.346 → 12.446` for each column of a reading, or for an estimate. */
export interface ChangedValue {
  /** Name of the column; absent for an estimate or constant. */
  readonly column?: string;
  /** Null where the reading or the number stands on the other side only. */
  readonly before: number | null;
  readonly after: number | null;
}

/** The values behind an attribution, before and after. */
export function changedValues(attribution: Attribution, before: Evaluation, after: Evaluation): ChangedValue[] {
  const { input, columns } = attribution;
  if (columns)
    return columns.map((column) => ({
      column,
      before: cell(before, input, column),
      after: cell(after, input, column),
    }));
  if (attribution.before === undefined || attribution.after === undefined) return [];
  return [{ before: attribution.before, after: attribution.after }];
}

/** One number of a reading out of the model's columns; `reading` is `series/id`. */
function cell({ model }: Evaluation, reading: string, column: string): number | null {
  for (const { series, name, readings, values } of model?.columns ?? []) {
    if (name !== column || !reading.startsWith(`${series}/`)) continue;
    const row = readings.indexOf(reading.slice(series.length + 1));
    if (row >= 0) return values[row]!;
  }
  return null;
}

/** A changed value in words. Whether a reading is counted is a column too, of ones and zeros. */
export function changeInWords({ column, before, after }: ChangedValue): string {
  if (column === "included") {
    if (before === null || after === null) return before === null ? "new reading" : "reading not there any more";
    return after === 0 ? "left out" : "counted again";
  }
  const side = (value: number | null) => (value === null ? "absent" : plain(value, 8));
  return `${column === undefined ? "" : `${column} `}${side(before)} → ${side(after)}`;
}
