import { type Evaluated, readingLights } from "@alcedo-dosimetry/campaign";
import { type Figure, readingsInTime } from "@alcedo-dosimetry/figures";
import type { Drawable } from "./drawable.ts";
import { netSeriesOf } from "./net-series-of.ts";
import { type LightSeries, SERIES_WORDS } from "./series-words.ts";

type NetCondition = ReturnType<typeof netSeriesOf>[number]["conditions"][number];

/** The readings of each condition, those of all its visits in one drawing, in the order of the chain. */
export function readingsFigures({ campaign, evaluated }: Drawable): Figure[] {
  // a separation that stopped has readings, but nothing that tells scintillation from stem light
  if (!evaluated.weights) return [];
  const { signalUnit } = campaign.descriptor.alcedo.detector;
  return netSeriesOf(evaluated).flatMap(({ series, conditions }) =>
    [...new Set(conditions.map(({ condition }) => condition))].map((name) =>
      conditionFigure(
        evaluated,
        series,
        conditions.filter(({ condition }) => condition === name),
        signalUnit,
      ),
    ),
  );
}

function conditionFigure(
  evaluated: Evaluated,
  series: LightSeries,
  visits: readonly NetCondition[],
  signalUnit: string,
): Figure {
  const { condition: name, divisor } = visits[0]!;
  const { weights, channels } = evaluated;
  const readings = evaluated.series[series]!.readings;
  const lights = visits.map((visit) => readingLights(weights!, visit));
  const counting = lights.flatMap((visit) => visit.counting);
  const leftOut = lights.flatMap((visit) => visit.leftOut);
  const columns = [
    ...channels.map((_, c) => counting.map(({ normalised }) => normalised[c]!)),
    counting.map(({ corrected }) => corrected),
  ];
  const means = columns.map((column) => column.reduce((total, value) => total + value, 0) / column.length);
  const timed = [...counting, ...leftOut].every(({ row }) => readings[row]!.time !== undefined);
  const first = timed ? Math.min(...[...counting, ...leftOut].map(({ row }) => readings[row]!.time!)) : 0;
  const unit = divisor === "dose" ? `${signalUnit} per Gy` : signalUnit;
  return readingsInTime({
    id: `readings.${series}.${name}`,
    title: `Readings of ${name} (${SERIES_WORDS[series].toLowerCase()})`,
    timed,
    signals: [...channels, "corrected"].map((signal, k) => ({
      name: signal,
      role: k === 0 ? "channel-1" : k === 1 ? "channel-2" : "ink",
      mean: means[k]!,
      unit,
      ...spreadOf(columns[k]!, means[k]!),
    })),
    readings: [...counting, ...leftOut]
      .sort((a, b) => a.row - b.row)
      .map(({ row, normalised, corrected }) => {
        const { id, time, exclude } = readings[row]!;
        return {
          name: id,
          at: timed ? (time! - first) / 60 : row + 1,
          deviations: [...normalised, corrected].map((value, k) => value / means[k]! - 1),
          ...(exclude !== undefined && { leftOut: exclude }),
        };
      }),
  });
}

/** The relative standard deviation of a single reading, as it is seen: for the eye, no result. */
function spreadOf(values: readonly number[], mean: number): { readonly spread?: number } {
  if (values.length < 2) return {};
  const squares = values.reduce((total, value) => total + (value / mean - 1) * (value / mean - 1), 0);
  return { spread: Math.sqrt(squares / (values.length - 1)) };
}
