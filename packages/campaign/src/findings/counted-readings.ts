import type { Series } from "@alcedo-dosimetry/dosimetry";
import type { ChainSeries } from "../evaluated.ts";

/** The series that a campaign has. */
export function seriesOf(series: ChainSeries): readonly Series[] {
  const all: readonly (Series | undefined)[] = Object.values(series);
  return all.filter((own) => own !== undefined);
}

/** The series that a campaign has, each with the readings that count. */
export function countedReadings(series: ChainSeries): readonly Series[] {
  return seriesOf(series).map(({ name, readings }) => ({
    name,
    readings: readings.filter(({ exclude }) => exclude === undefined),
  }));
}
