import type { OutputFactorReading, Reading } from "@alcedo-dosimetry/campaign";
import { twoSided95 } from "./special.ts";

/** The factor that makes a reading comparable with the others of its series. */
export type Normalisation = (reading: Reading) => number;

const plain: Normalisation = () => 1;

/** Difference of monitor per MU between a field and the reference above which the monitor is taken to see the field. */
const MONITOR_SEES_FIELD = 0.003;

/** By the monitor where there is one, else by MU, else not at all; with the divisor's own mean, so that units stay. */
export function normalisation(readings: readonly Reading[]): Normalisation {
  return by(readings, "monitor") ?? by(readings, "mu") ?? plain;
}

/** As {@link normalisation}, but by MU where the monitor sees the field; the readings visit by visit. */
export function fieldNormalisation(visits: readonly (readonly OutputFactorReading[])[]): Normalisation {
  const readings = visits.flat();
  return monitorSeesField(visits) ? (by(readings, "mu") ?? plain) : normalisation(readings);
}

function by(readings: readonly Reading[], column: "monitor" | "mu"): Normalisation | undefined {
  if (readings.length === 0) return undefined;
  let sum = 0;
  for (const reading of readings) {
    const divisor = reading[column];
    if (divisor === undefined) return undefined;
    sum += divisor;
  }
  const mean = sum / readings.length;
  return (reading) => mean / reading[column]!;
}

/**
 * Whether the means of monitor/MU under some field and under the reference differ by more than 0.3 % and more than their
 * expanded uncertainty, from the scatter pooled over the visits.
 */
export function monitorSeesField(visits: readonly (readonly OutputFactorReading[])[]): boolean {
  if (visits.flat().some(({ monitor, mu }) => monitor === undefined || mu === undefined)) return false;
  const fields = visits.map((rows) => {
    const ratios = rows.map(({ monitor, mu }) => monitor! / mu!);
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    const squares = ratios.reduce((sum, ratio) => sum + (ratio / mean - 1) * (ratio / mean - 1), 0);
    return { isReference: rows[0]!.role === "reference", mean, squares, count: rows.length };
  });
  const dof = fields.reduce((sum, field) => sum + field.count - 1, 0);
  const variance = fields.reduce((sum, field) => sum + field.squares, 0) / dof;
  const reference = fields.filter((field) => field.isReference);
  const count = reference.reduce((sum, field) => sum + field.count, 0);
  if (dof === 0 || count === 0) return false;
  const mean = reference.reduce((sum, field) => sum + field.count * field.mean, 0) / count;
  return fields.some((field) => {
    if (field.isReference) return false;
    const difference = Math.abs(field.mean / mean - 1);
    const U = twoSided95(dof) * Math.sqrt(variance * (1 / field.count + 1 / count));
    return difference > MONITOR_SEES_FIELD && difference > U;
  });
}
