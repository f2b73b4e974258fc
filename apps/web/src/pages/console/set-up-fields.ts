import {
  type Campaign,
  type Column,
  columnAt,
  columnsOf,
  fittingName,
  SIGNAL_PREFIX,
  type StageId,
} from "@alcedo-dosimetry/campaign";
import { tableOf } from "./next-reading.ts";

/** Columns that are not set up but come with each reading, or are for afterwards. */
const NOT_SET_UP = new Set(["reading", "condition", "time", "monitor", "exclude", "excluded_by", "note"]);

/** The series that the console can add readings to: those whose tables the campaign has. */
export function measurableSeries(campaign: Campaign): readonly StageId[] {
  return (["background", "separation", "calibration", "output-factors"] as const).filter((series) =>
    tableOf(campaign, series),
  );
}

/**
 * What is set up for a reading of a series: the columns that its table has, and those that the format needs. Signals, times
 * and reasons are not among them.
 */
export function setUpColumns(campaign: Campaign, series: StageId): readonly Column[] {
  const found = tableOf(campaign, series);
  if (!found) return [];
  return columnsOf(series, campaign.descriptor.alcedo.detector.channels).filter(
    ({ name, needed }) =>
      !NOT_SET_UP.has(name) &&
      !name.startsWith(SIGNAL_PREFIX) &&
      (needed === "always" || columnAt(found.table.columns, name) >= 0),
  );
}

/** What is wrong with the name of a condition, and what to call it; undefined where nothing is. */
export function nameFault(name: string): string | undefined {
  const text = name.trim();
  if (text === "") return "A condition needs a name, such as 10x10 or cone-5.";
  const fits = fittingName(text);
  return fits === text ? undefined : `Small letters, digits, point and hyphen alone${fits === "" ? "" : `: ${fits}`}.`;
}
