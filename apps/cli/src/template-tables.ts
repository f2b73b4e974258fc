import { columnsOf, SIGNAL_PREFIX } from "@alcedo-dosimetry/campaign";
import { TEMPLATE, type TemplateSeries } from "./template-series.ts";

/** How a new campaign is to be. */
export interface TemplateOptions {
  readonly channels: readonly string[];
  readonly background: boolean;
  /** With example readings, or with headers only. */
  readonly example: boolean;
}

const REPEATS = 3;
/** How readings of the example differ from their condition's, one after the other: both channels share the beam's part. */
const SCATTER = [
  [1.0006, 1.0004],
  [0.9995, 0.9997],
  [0.9999, 0.9999],
  [1.0002, 1.0003],
  [0.9997, 0.9996],
  [1.0004, 1.0002],
  [0.9998, 1.0],
] as const;
/** What the example's reader shows with the beam off over one reading, in nC. */
const DARK = [0.036, 0.019] as const;
const DARK_SCATTER = [0.0001, -0.0002, 0.0001, 0, -0.0001] as const;
const DURATION_S = 30;
/** Seconds from one reading of the example to the next. */
const PACE_S = 48;
const FIRST_MINUTE = 20 * 60;

/** The series that a new campaign has. */
export function templateSeries({ background }: TemplateOptions): readonly TemplateSeries[] {
  return TEMPLATE.filter(({ series }) => background || series !== "background");
}

/** The columns of one table of a new campaign, in the order in which they are written. */
export function templateColumns({ series, columns }: TemplateSeries, options: TemplateOptions): readonly string[] {
  return columnsOf(series, options.channels)
    .filter(({ name, needed }) => needed === "always" || columns.includes(name))
    .filter(({ name }) => name !== "duration_s" || options.background)
    .map(({ name }) => name);
}

/** The text of every table of a new campaign by its series: a header, and the example's readings where they are wanted. */
export function templateTables(options: TemplateOptions): ReadonlyMap<TemplateSeries["series"], string> {
  const visits = inOrderOfDelivery(options);
  const rows = new Map<string, string[]>();
  visits.forEach(({ series, condition }, visit) => {
    const columns = templateColumns(series, options);
    for (let k = 0; k < REPEATS; k++) {
      const number = visit * REPEATS + k;
      const scatter = SCATTER[number % SCATTER.length]!;
      const own = rows.get(series.series) ?? [];
      const cells: Readonly<Record<string, string>> = {
        ...condition.cells,
        reading: `${series.series[0]!}${own.length + 1}`,
        condition: condition.condition,
        time: clock(number * PACE_S),
        duration_s: `${DURATION_S}`,
        temperature_C: "22.0",
        note: "example: replace",
        ...Object.fromEntries(
          options.channels.map((channel, c) => [
            SIGNAL_PREFIX + channel,
            (
              condition.signals[c]! * scatter[c]! +
              (options.background ? DARK[c]! + DARK_SCATTER[number % DARK_SCATTER.length]! : 0)
            ).toFixed(4),
          ]),
        ),
      };
      rows.set(series.series, [...own, columns.map((column) => cells[column] ?? "").join(",")]);
    }
  });
  return new Map(
    templateSeries(options).map((series) => [
      series.series,
      `${[templateColumns(series, options).join(","), ...(rows.get(series.series) ?? [])].join("\n")}\n`,
    ]),
  );
}

/** The example's conditions in time: background before, the other series, background after. */
function inOrderOfDelivery(options: TemplateOptions) {
  if (!options.example) return [];
  const visits = templateSeries(options).flatMap((series) =>
    series.example.map((condition) => ({ series, condition })),
  );
  const isAfter = ({ series, condition }: (typeof visits)[number]) =>
    series.series === "background" && condition.condition === "after";
  return [...visits.filter((visit) => !isAfter(visit)), ...visits.filter(isAfter)];
}

function clock(second: number): string {
  const two = (value: number) => String(value).padStart(2, "0");
  const minute = FIRST_MINUTE + Math.floor(second / 60);
  return `2026-01-15T${two(Math.floor(minute / 60))}:${two(minute % 60)}:${two(second % 60)}+00:00`;
}
