import {
  type Campaign,
  columnAt,
  type Edit,
  SIGNAL_PREFIX,
  type StageId,
  type Table,
} from "@alcedo-dosimetry/campaign";
import { rowOf } from "../../book/reading-place.ts";

/** A number that is typed anew for each reading. */
export interface EntryField {
  readonly column: string;
  /** What it is called: the channel's name, `monitor`. */
  readonly name: string;
  /** Place of the channel; absent for what is no light. */
  readonly channel?: number;
  readonly unit: string;
}

/** A condition as the console measures it. */
export interface At {
  readonly series: StageId;
  readonly condition: string;
}

/** Columns that belong to one reading, not to its set-up. */
const OWN = ["reading", "condition", "time", "exclude", "excluded_by", "note", "monitor"];

/** The table of a series, with its name. */
export function tableOf(
  campaign: Campaign,
  series: StageId,
): { readonly name: string; readonly table: Table } | undefined {
  const resource = campaign.descriptor.resources.find((one) => one.alcedo.series === series);
  const table = resource && campaign.tables[resource.name];
  return table && { name: resource.name, table };
}

/** Cells of a reading by the format's names of columns; empty texts where it has none, or is not there. */
export function textsOf(
  campaign: Campaign,
  { series }: At,
  reading: string | undefined,
  columns: readonly string[],
): Record<string, string> {
  const { table } = tableOf(campaign, series)!;
  const row = reading === undefined ? undefined : table.rows[rowOf(table, reading)];
  return Object.fromEntries(columns.map((column) => [column, row?.[columnAt(table.columns, column)]?.trim() ?? ""]));
}

/** What is typed for each reading of a series: the channels, and the monitor where the table has one. */
export function entryFields(campaign: Campaign, series: StageId): readonly EntryField[] {
  const { channels, signalUnit } = campaign.descriptor.alcedo.detector;
  const found = tableOf(campaign, series);
  const monitor = found && series !== "background" && columnAt(found.table.columns, "monitor") >= 0;
  return [
    ...channels.map((name, channel) => ({ column: SIGNAL_PREFIX + name, name, channel, unit: signalUnit })),
    ...(monitor ? [{ column: "monitor", name: "monitor", unit: "" }] : []),
  ];
}

/** The set-up that a new reading takes over, column by column: from its condition's last reading, or the table's. */
export function carriedOver(campaign: Campaign, { series, condition }: At): ReadonlyMap<string, string> {
  const found = tableOf(campaign, series);
  if (!found) return new Map();
  const { table } = found;
  const { channels } = campaign.descriptor.alcedo.detector;
  const own = new Set([...OWN, ...channels.map((channel) => SIGNAL_PREFIX + channel)]);
  const at = columnAt(table.columns, "condition");
  const last = table.rows.findLast((row) => row[at]?.trim() === condition);
  const latest = table.rows.at(-1);
  return new Map(
    table.columns.flatMap((column, k): (readonly [string, string])[] => {
      if ([...own].some((name) => columnAt(table.columns, name) === k)) return [];
      // the room's temperature is that of the moment, the rest that of the condition
      const moment = columnAt(table.columns, "temperature_C") === k;
      const text = (moment ? latest : last)?.[k] ?? "";
      return text.trim() === "" ? [] : [[column.trim(), text] as const];
    }),
  );
}

/**
 * The name of the next reading: the last one's with its number one higher, `r034` → `r035`, as wide as it was; where that
 * is taken, the next one that is free.
 */
export function nextReadingName(table: Table): string {
  const at = columnAt(table.columns, "reading");
  const names = table.rows.map((row) => row[at]?.trim() ?? "").filter((name) => name !== "");
  const taken = new Set(names);
  const [, stem, digits] = /^(.*?)(\d+)$/.exec(names.at(-1) ?? "r000") ?? [undefined, `${names.at(-1)}-`, "1"];
  for (let number = Number(digits) + 1; ; number++) {
    const name = `${stem}${String(number).padStart(digits.length, "0")}`;
    if (!taken.has(name)) return name;
  }
}

/** A reading to be kept: where, and what was typed, by the columns of {@link entryFields}, in the table's decimal sign. */
export interface NewReading {
  readonly at: At;
  readonly typed: ReadonlyMap<string, string>;
  /** Set-up that is not as before, column by column. */
  readonly setUp?: ReadonlyMap<string, string>;
  /** ISO 8601 with its offset. */
  readonly time: string;
}

/**
 * The edits that add a reading at the end of its table, and what the reading is called. What the table has no column for
 * yet (the first reading of a new campaign) gets one.
 */
export function readingEdits(
  campaign: Campaign,
  { at, typed, setUp = new Map<string, string>(), time }: NewReading,
): { readonly name: string; readonly edits: readonly Edit[] } {
  const found = tableOf(campaign, at.series);
  if (!found) throw new Error(`The campaign has no table for ${at.series}.`);
  const { table, name: tableName } = found;
  const name = nextReadingName(table);
  const cells = new Map([
    ...carriedOver(campaign, at),
    ...setUp,
    ...(columnAt(table.columns, "time") >= 0 ? [["time", time] as const] : []),
    ...([...typed, ["reading", name], ["condition", at.condition]] as const),
  ]);
  const row = table.columns.map(() => "");
  const beside: Edit[] = [];
  for (const [column, text] of cells) {
    const k = columnAt(table.columns, column);
    if (k >= 0) row[k] = text;
    else if (text !== "") beside.push({ cell: { table: tableName, row: table.rows.length, column, text } });
  }
  return { name, edits: [{ insert: { table: tableName, at: table.rows.length, rows: [row] } }, ...beside] };
}

/** Where a reading stands by its name. */
export function placeOf(
  campaign: Campaign,
  series: StageId,
  reading: string,
): { table: string; row: number } | undefined {
  const found = tableOf(campaign, series);
  if (!found) return undefined;
  const row = rowOf(found.table, reading);
  return row < 0 ? undefined : { table: found.name, row };
}

/** Edits that write into cells of one reading, under the headers that the table has. */
export function cellEdits(
  campaign: Campaign,
  series: StageId,
  reading: string,
  cells: Readonly<Record<string, string>>,
): readonly Edit[] {
  const place = placeOf(campaign, series, reading);
  const { table } = tableOf(campaign, series)!;
  if (!place) throw new Error(`There is no reading ${reading} in ${series}.`);
  return Object.entries(cells).map(([column, text]) => {
    const k = columnAt(table.columns, column);
    return { cell: { ...place, column: k < 0 ? column : table.columns[k]!, text } };
  });
}

/** The moment as tables write it: local time with its offset from UTC, to the second. */
export function isoMoment(date: Date): string {
  const two = (value: number) => `${Math.trunc(Math.abs(value))}`.padStart(2, "0");
  const offset = -date.getTimezoneOffset();
  const day = `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
  const clock = `${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}`;
  return `${day}T${clock}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
}
