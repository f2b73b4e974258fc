import type { ChainSeries } from "./evaluated.ts";
import type { PointSeries, Reading } from "./reading.ts";
import type { SeriesReadings } from "./readings.ts";

/** The series with every row in the table's order, those that are left out in their places: a weight of zero, not a gap. */
export function chainSeries(typed: SeriesReadings): ChainSeries {
  const { background, separation, calibration } = typed;
  const outputs = typed["output-factors"];
  return {
    ...(background && { background: merged("background", background) }),
    ...(separation && { separation: merged("separation", separation) }),
    ...(calibration && { calibration: merged("calibration", calibration) }),
    ...(outputs && { "output-factors": merged("output-factors", outputs) }),
  };
}

function merged<R extends Reading>(name: string, { readings, excluded }: PointSeries<R>) {
  const left = excluded.map((reading) => ({
    ...reading,
    id: reading.id ?? `row ${reading.row}`,
    condition: reading.condition ?? "",
    digits: [],
  }));
  // what a reading that is left out lacks is never looked at: its weight is zero
  const rows = [...readings, ...(left as unknown as R[])].sort((a, b) => a.row - b.row);
  return { name, readings: rows };
}
