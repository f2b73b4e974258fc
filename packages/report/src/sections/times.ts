import type { Text } from "../document/document.ts";
import { line, user } from "../document/text.ts";
import { columnNames } from "./column-names.ts";
import type { Material } from "./section-material.ts";

/** When the first and the last reading were taken, as they were typed; undefined where no reading has a time. */
export function timesInWords({ campaign, interpretation }: Material): Text | undefined {
  const { background, separation, calibration, "output-factors": fields } = interpretation.series;
  const timed = [
    { kind: "background" as const, series: background },
    { kind: "separation" as const, series: separation },
    { kind: "calibration" as const, series: calibration },
    { kind: "output-factors" as const, series: fields },
  ].flatMap(({ kind, series }) => {
    const table = series && campaign.tables[series.resource];
    if (!table) return [];
    const column = columnNames(table, kind, interpretation.channels).indexOf("time");
    if (column < 0) return [];
    return series.readings.flatMap(({ time, row }) =>
      time === undefined ? [] : [{ time, typed: table.rows[row - 1]?.[column]?.trim() ?? "" }],
    );
  });
  if (timed.length === 0) return undefined;
  const first = timed.reduce((a, b) => (b.time < a.time ? b : a));
  const last = timed.reduce((a, b) => (b.time > a.time ? b : a));
  return first.time === last.time ? [user(first.typed)] : line("from ", user(first.typed), " to ", user(last.typed));
}
