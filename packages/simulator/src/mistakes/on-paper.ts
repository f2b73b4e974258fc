import { changed, type Row, type Sheet } from "../sheet.ts";
import type { SeriesName } from "../shot.ts";
import type { Place } from "../truth.ts";
import { pick } from "./among-shots.ts";
import type { Circumstances, Papers, Spoilt } from "./mistake.ts";

/** The sheet of a series. */
export function sheetOf({ sheets }: Papers, series: SeriesName): Sheet {
  const sheet = sheets.find((own) => own.series === series);
  if (!sheet) throw new Error(`this mistake needs the series ${series}, and the plan has none`);
  return sheet;
}

/** Puts a sheet in place of the one of its series. */
export function withSheet(papers: Papers, sheet: Sheet, places: readonly Place[]): Spoilt<Papers> {
  const sheets = papers.sheets.map((own) => (own.series === sheet.series ? sheet : own));
  return { made: { ...papers, sheets }, places };
}

/** Rewrites the rows of a series that are meant. */
export function rewrite(
  papers: Papers,
  series: SeriesName,
  which: (row: Row) => boolean,
  change: (row: Row, sheet: Sheet) => Row,
  column?: string,
): Spoilt<Papers> {
  const sheet = sheetOf(papers, series);
  const rows = sheet.rows.map((row) => (which(row) ? { ...row, ...change(row, sheet) } : row));
  const named = column === undefined ? {} : { column };
  const places = sheet.rows.filter(which).map(({ reading, condition }) => ({
    series,
    condition: condition!,
    reading: reading!,
    ...named,
  }));
  return withSheet(papers, { ...sheet, rows }, places);
}

/** Rewrites a column of a series throughout, where the series has it. */
export function rewriteColumn(
  papers: Papers,
  series: SeriesName,
  column: string,
  change: (value: number) => number,
): Spoilt<Papers> {
  const sheet = sheetOf(papers, series);
  if (!sheet.columns.includes(column))
    throw new Error(`this mistake needs the column ${column} in the series ${series}, and it is not written`);
  const rows = sheet.rows.map((row) => ({ ...row, [column]: changed(row[column]!, change) }));
  return withSheet(papers, { ...sheet, rows }, [{ series, column }]);
}

/** One row of a series, by chance. */
export function pickRow(papers: Papers, series: SeriesName, circumstances: Circumstances): Row {
  return pick(sheetOf(papers, series).rows, circumstances, `readings in the series ${series}`);
}

/** The signal columns of a sheet. */
export function signalColumns({ columns }: Sheet): string[] {
  return columns.filter((column) => column.startsWith("signal_"));
}

/** The row with its signals multiplied. */
export function scaledSignals(row: Row, sheet: Sheet, factor: number): Row {
  return Object.fromEntries(signalColumns(sheet).map((column) => [column, changed(row[column]!, (q) => q * factor)]));
}

/** One after the other of several rewritings. */
export function inTurn(papers: Papers, steps: readonly ((papers: Papers) => Spoilt<Papers>)[]): Spoilt<Papers> {
  return steps.reduce<Spoilt<Papers>>(
    ({ made, places }, step) => {
      const next = step(made);
      return { made: next.made, places: [...places, ...next.places] };
    },
    { made: papers, places: [] },
  );
}
