import type { Assumptions } from "./assumptions.ts";
import type { Campaign } from "./campaign.ts";
import type { Characterisation } from "./characterisation.ts";
import { dayNumber, dayOf } from "./iso-time.ts";
import type { SeriesReadings } from "./readings.ts";

/** How old a characterisation is when it is used. */
export interface CharacterisationAge {
  /** The day of use, YYYY-MM-DD; undefined where neither the call nor the readings tell it. */
  readonly asOf: string | undefined;
  /** Days since the characterisation, below zero where it was made afterwards. */
  readonly days: number | undefined;
  /** Dose to the fibre since; undefined where either accumulated dose is not stated. */
  readonly dose_Gy: number | undefined;
  /** Why it is stale, in words; none where it is not known to be. */
  readonly stale: readonly string[];
}

/**
 * How old a characterisation is on the day of use: by the calendar and by the dose that the fibre has had since, each
 * against its limit (docs/physics.md, Detector life).
 *
 * @param asOf the day of use, YYYY-MM-DD; that of the last reading unless given.
 */
export function ageOf(
  { date, accumulatedDose_Gy: before }: Characterisation,
  { descriptor }: Campaign,
  typed: SeriesReadings,
  { characterisationAge_days, characterisationDose_Gy }: Assumptions,
  asOf = lastDay(typed),
): CharacterisationAge {
  const now = descriptor.alcedo.detector.accumulatedDose_Gy;
  const today = asOf === undefined ? undefined : dayNumber(asOf);
  const days = today === undefined ? undefined : today - dayNumber(date)!;
  const dose_Gy = before === undefined || now === undefined ? undefined : now - before;
  const stale: string[] = [];
  if (days !== undefined && days > characterisationAge_days)
    stale.push(`${days} days old on ${asOf}, beyond ${characterisationAge_days} days`);
  if (dose_Gy !== undefined && dose_Gy > characterisationDose_Gy)
    stale.push(`${dose_Gy} Gy to the fibre since, beyond ${characterisationDose_Gy} Gy`);
  return { asOf, days, dose_Gy, stale };
}

/** The day of the last reading that counts, in UTC. */
function lastDay({ background, calibration, "output-factors": outputs }: SeriesReadings): string | undefined {
  const readings = [background, calibration, outputs].flatMap((series) => series?.readings ?? []);
  const times = readings.flatMap(({ time }) => time ?? []);
  return times.length === 0 ? undefined : dayOf(times.reduce((a, b) => Math.max(a, b)));
}
