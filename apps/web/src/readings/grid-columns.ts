import {
  type Column,
  columnName,
  columnsOf,
  SIGNAL_PREFIX,
  type Table,
  type TableSeriesKind,
} from "@alcedo-dosimetry/campaign";

/** A column of the grid. */
export interface GridColumn {
  /** Where it stands in the table, from 0. */
  readonly at: number;
  /** As typed in the table's header: what edits name it by. */
  readonly typed: string;
  /** What the series knows of it; absent for a column that is kept and not evaluated. */
  readonly known?: Column;
  /** Its heading, the unit beneath it. */
  readonly title: string;
  readonly unit: string;
  /** Number of the light channel whose readings it holds, from 1. */
  readonly channel?: number;
  readonly width: number;
}

const WIDTHS: Readonly<Record<string, number>> = {
  ...{
    reading: 84,
    condition: 112,
    time: 92,
    dose_group: 96,
    role: 92,
    shape: 92,
    exclude: 180,
    excluded_by: 110,
    note: 220,
  },
};

/** What is looked at first stands first: the reading, what was read, its part in the series; settings come after. */
const PLACE: Readonly<Record<string, number>> = {
  ...{ reading: 0, condition: 1, role: 3, dose_group: 3, dose_Gy: 3, fibre_mm: 3 },
  ...{ time: 5, duration_s: 5, mu: 5, monitor: 5, temperature_C: 5, exclude: 6, excluded_by: 6, note: 6 },
};
const SIGNAL_PLACE = 2;
const OTHER_PLACE = 4;

/** The columns of a table's grid; those of like weight in the table's order, which itself stays as it is. */
export function gridColumns(
  { columns }: Pick<Table, "columns">,
  series: TableSeriesKind,
  channels: readonly string[],
  signalUnit: string,
): readonly GridColumn[] {
  const known = columnsOf(series, channels);
  const names = known.map(({ name }) => name);
  const place = ({ known: own, channel }: GridColumn) =>
    channel !== undefined ? SIGNAL_PLACE : own ? (PLACE[own.name] ?? OTHER_PLACE) : OTHER_PLACE + 3;
  const all = columns.map((typed, at): GridColumn => {
    const name = columnName(typed, names);
    const column = known.find((own) => own.name === name);
    const channel = channels.findIndex((own) => name === SIGNAL_PREFIX + own);
    return {
      at,
      typed,
      ...(column && { known: column }),
      ...(channel >= 0 && { channel: channel + 1 }),
      title: titleOf(name, column),
      unit: channel >= 0 ? signalUnit : name === "mu" ? "" : (column?.unit ?? ""), // MU is its own heading
      width: WIDTHS[name] ?? (channel >= 0 ? 104 : column?.kind === "number" ? 88 : 120),
    };
  });
  return all.sort((a, b) => place(a) - place(b));
}

/** Columns that the series knows and the table lacks. */
export function columnsToAdd(table: Pick<Table, "columns">, series: TableSeriesKind, channels: readonly string[]) {
  const known = columnsOf(series, channels);
  const names = known.map(({ name }) => name);
  const there = new Set(table.columns.map((typed) => columnName(typed, names)));
  return known.filter(({ name }) => !there.has(name));
}

/** `fwhm_x_mm` → `FWHM x`, `signal_blue` → `blue`: the name without what stands beneath it. */
function titleOf(name: string, column: Column | undefined): string {
  if (name.startsWith(SIGNAL_PREFIX)) return name.slice(SIGNAL_PREFIX.length);
  const bare = column?.unit === undefined ? name : name.replace(/_(?:mm|s|C|Gy|percent)$/, "");
  return bare.replace(/^mu$/, "MU").replace(/^fwhm/, "FWHM").replaceAll("_", " ");
}

/** How a cell is shown while nobody types in it: a time without its day where the whole table is of one. */
export function shownCell(
  text: string,
  column: GridColumn,
  oneDay: boolean,
  decimal: (text: string) => string,
): string {
  if (column.known?.kind === "number") return decimal(text.replace(",", "."));
  if (column.known?.kind === "time") return shortTime(text, oneDay);
  return text;
}

/** `2026-03-12T20:04:35+01:00` → `20:04:35`, or `03-12 20:04:35` where the day matters. What is no time stays. */
function shortTime(text: string, oneDay: boolean): string {
  const [, day, time] = /^\d{4}-(\d\d-\d\d)[T ](\d\d:\d\d(?::\d\d)?)/.exec(text.trim()) ?? [];
  if (day === undefined || time === undefined) return text;
  return oneDay ? time : `${day} ${time}`;
}

/** Whether all times of a table are of one day. */
export function isOfOneDay({ columns, rows }: Pick<Table, "columns" | "rows">): boolean {
  const at = columns.findIndex((typed) => typed.trim() === "time");
  return at >= 0 && new Set(rows.map((row) => row[at]!.trim().slice(0, 10)).filter((day) => day !== "")).size <= 1;
}
