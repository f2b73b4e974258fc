import { type Evaluated, readingLights } from "@alcedo-dosimetry/campaign";
import { type Figure, type LoadRow, stemLoads } from "@alcedo-dosimetry/figures";
import type { Drawable } from "./drawable.ts";
import { netSeriesOf } from "./net-series-of.ts";
import { SERIES_WORDS } from "./series-words.ts";

/** How far every reading of every condition leans on the separation. */
export function stemLoadFigure({ evaluated }: Drawable): Figure | undefined {
  const { weights, range, channels } = evaluated;
  if (!weights) return undefined;
  const rows = netSeriesOf(evaluated).flatMap(({ series, conditions }) => rowsOf(evaluated, series, conditions));
  if (rows.length === 0) return undefined;
  const highest = range?.highest;
  return stemLoads({
    id: "stem-load",
    title: "Stem load of every reading",
    quantity:
      channels.length === 2
        ? `stem load, ${channels[1]!} over corrected signal`
        : "stem load, light taken away over what is left",
    rows,
    ...(highest && { verified: { load: highest.load.value, by: highest.name } }),
  });
}

function rowsOf(
  { weights, signals, series: chain }: Evaluated,
  series: keyof typeof SERIES_WORDS,
  conditions: ReturnType<typeof netSeriesOf>[number]["conditions"],
): LoadRow[] {
  const readings = chain[series]!.readings;
  return [...new Set(conditions.map(({ condition }) => condition))].flatMap((name) => {
    const mean = signals.find((signal) => signal.series === series && signal.condition === name);
    if (!mean) return [];
    const lights = conditions.filter(({ condition }) => condition === name).map((own) => readingLights(weights!, own));
    const named = ({ row, load }: { readonly row: number; readonly load: number }) => ({
      name: readings[row]!.id,
      load,
    });
    return [
      {
        series: SERIES_WORDS[series],
        name,
        mean: mean.load.value,
        readings: [
          ...lights.flatMap(({ counting }) => counting.map(named)),
          ...lights.flatMap(({ leftOut }) =>
            leftOut
              .filter(({ load }) => Number.isFinite(load))
              .map((light) => ({ ...named(light), leftOut: readings[light.row]!.exclude! })),
          ),
        ],
      },
    ];
  });
}
