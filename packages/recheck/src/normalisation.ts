import type { OutputFactorReading, Reading } from "@alcedo-dosimetry/campaign";
import { twoSided } from "./special.ts";

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
 * Whether the mean of monitor/MU under some field lies outside what the reference shows around its time by more than
 * 0.3 % and more than chance allows (0.2 % over all fields), from the scatter pooled over the visits.
 */
export function monitorSeesField(visits: readonly (readonly OutputFactorReading[])[]): boolean {
  if (visits.flat().some(({ monitor, mu }) => monitor === undefined || mu === undefined)) return false;
  const all = visits.map((rows) => {
    const ratios = rows.map(({ monitor, mu }) => monitor! / mu!);
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    const squares = ratios.reduce((sum, ratio) => sum + (ratio / mean - 1) * (ratio / mean - 1), 0);
    const times = rows.map(({ time }) => time ?? Number.NaN);
    const time = times[0]! + times.reduce((sum, own) => sum + (own - times[0]!), 0) / times.length;
    return { isReference: rows[0]!.role === "reference", mean, squares, count: rows.length, time };
  });
  const dof = all.reduce((sum, { count }) => sum + count - 1, 0);
  const variance = all.reduce((sum, { squares }) => sum + squares, 0) / dof;
  const references = all.filter(({ isReference }) => isReference);
  if (dof === 0 || references.length === 0) return false;
  // one field in five hundred series may seem to be seen by chance
  const level = 0.002 / Math.max(1, all.length - references.length);
  const timed = references.every(({ time }) => !Number.isNaN(time));
  return all.some((field) => {
    if (field.isReference) return false;
    const before = references.filter(({ time }) => time <= field.time);
    const after = references.filter(({ time }) => time > field.time);
    const last = before.length > 0 ? [before.reduce((a, b) => (b.time > a.time ? b : a))] : [];
    const next = after.length > 0 ? [after.reduce((a, b) => (b.time < a.time ? b : a))] : [];
    const around = timed && !Number.isNaN(field.time) ? [...last, ...next] : references;
    // as far from every reference around it as from the one on its side
    const beyond = around.every(({ mean }) => field.mean > mean) || around.every(({ mean }) => field.mean < mean);
    if (!beyond) return false;
    const nearest = around.reduce((a, b) => (Math.abs(b.mean - field.mean) < Math.abs(a.mean - field.mean) ? b : a));
    const difference = Math.abs(field.mean / nearest.mean - 1);
    const U = twoSided(level, dof) * Math.sqrt(variance * (1 / field.count + 1 / nearest.count));
    return difference > MONITOR_SEES_FIELD && difference > U;
  });
}
