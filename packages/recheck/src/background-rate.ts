import type { BackgroundReading, PointSeries } from "@alcedo-dosimetry/campaign";
import { type InputBlock, type Shift, single } from "./elementary-input.ts";
import { gathered, lastDigits, meanTime } from "./measured.ts";
import { columnMeans, type SeriesScatter, seriesScatter } from "./scatter.ts";

/** The readings of one condition with the beam off. */
export interface BackgroundGroup {
  readonly key: string;
  readonly time?: number;
  readonly readings: readonly BackgroundReading[];
}

/** Groups of background readings, in the order of time where all have times. */
export function backgroundGroups(series: PointSeries<BackgroundReading> | undefined): BackgroundGroup[] {
  const groups = [...gathered(series?.readings ?? [], (reading) => reading.condition)].map(([name, readings]) => {
    const time = meanTime(readings);
    return { key: `background/${name}`, readings, ...(time !== undefined && { time }) };
  });
  return groups.every((group) => group.time !== undefined) ? groups.sort((a, b) => a.time! - b.time!) : groups;
}

/**
 * What is uncertain about the background: the scatter of each group, pooled as it stands (dark signal does not scatter in
 * proportion to itself), and the last digit of each reading.
 */
export function backgroundInputs(groups: readonly BackgroundGroup[], channels: number): InputBlock[] {
  if (groups.length === 0) return [];
  const digits = lastDigits(groups.flatMap(({ readings }) => readings));
  const { covariances } = ratesScatter(groups, digits, channels);
  const blocks = groups.map(({ key }, g): InputBlock => {
    return { keys: digits.map((_, c) => `${key}/repeats/${c}`), covariance: covariances[g]! };
  });
  for (const { readings } of groups) {
    for (const { id } of readings) {
      blocks.push(...digits.map((digit, c) => single(`background/${id}/digit/${c}`, digit / Math.sqrt(12))));
    }
  }
  return blocks;
}

function ratesScatter(groups: readonly BackgroundGroup[], digits: readonly number[], channels: number): SeriesScatter {
  return seriesScatter(
    groups.map(({ readings }) => {
      const rows = readings.map((reading) => reading.signals.map((signal) => signal / duration(reading)));
      const seconds = readings.reduce((sum, reading) => sum + duration(reading), 0) / readings.length;
      return { rows, digits: digits.map((digit) => digit / seconds) };
    }),
    "absolute",
    channels,
  );
}

/** Covariance among channels of one reading with the beam off, in signal units squared: what the reader does by itself. */
export function readerNoise(groups: readonly BackgroundGroup[], channels: number): number[][] | undefined {
  const readings = groups.flatMap((group) => group.readings);
  if (!groups.some((group) => group.readings.length > 1)) return undefined;
  const seconds = readings.reduce((sum, reading) => sum + duration(reading), 0) / readings.length;
  const count = groups[0]!.readings.length;
  return ratesScatter(groups, lastDigits(readings), channels).pooled[0]!.map((row) =>
    row.map((cell) => cell * count * seconds * seconds),
  );
}

/** The rate of one group, by channel. */
function groupRate({ key, readings }: BackgroundGroup, shift: Shift): number[] {
  const rates = readings.map((reading) =>
    reading.signals.map((signal, c) => (signal + shift(`background/${reading.id}/digit/${c}`)) / duration(reading)),
  );
  return columnMeans(rates).map((rate, c) => rate + shift(`${key}/repeats/${c}`));
}

/** The background's rates: over all readings, and at a time. */
export interface BackgroundRates {
  /** Mean over all readings, by channel. */
  readonly mean: readonly number[];
  /** Interpolated between the groups before and after; the nearest outside; the mean where times are wanting. */
  at(time: number | undefined): readonly number[];
}

/** The rates of the background with the inputs shifted; `undefined` where the campaign has none. */
export function backgroundRates(groups: readonly BackgroundGroup[], shift: Shift): BackgroundRates | undefined {
  if (groups.length === 0) return undefined;
  const rates = groups.map((group) => groupRate(group, shift));
  const count = groups.reduce((sum, { readings }) => sum + readings.length, 0);
  const mean = rates[0]!.map((_, c) =>
    groups.reduce((sum, { readings }, g) => sum + (readings.length / count) * rates[g]![c]!, 0),
  );
  const timed = groups.every((group) => group.time !== undefined);
  return {
    mean,
    at(time) {
      if (!timed || time === undefined) return mean;
      const after = groups.findIndex((group) => group.time! > time);
      if (after === 0) return rates[0]!;
      if (after === -1) return rates[rates.length - 1]!;
      const from = groups[after - 1]!.time!;
      const w = (time - from) / (groups[after]!.time! - from);
      return rates[after]!.map((rate, c) => (1 - w) * rates[after - 1]![c]! + w * rate);
    },
  };
}

function duration(reading: BackgroundReading): number {
  if (reading.duration_s === undefined) throw new Error(`background ${reading.id}: duration_s is missing`);
  return reading.duration_s;
}
