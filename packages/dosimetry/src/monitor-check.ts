import { coverageFactor, pooledCovariance, sidakPerTest } from "@alcedo-dosimetry/metrology";
import { type ConditionRows, counting, meanTime, type Reading, type Series } from "./readings.ts";

/** A field in which the monitor, per monitor unit, reads otherwise than in the reference field. */
export interface MonitorDifference {
  readonly condition: string;
  /** Mean of monitor/MU in the field over that in the nearest visit to the reference, less one. */
  readonly difference: number;
  /** What it has to exceed: its uncertainty expanded to 99.8 % over all fields (Šidák); NaN without repeats. */
  readonly U: number;
}

/** Whether the monitor may normalise. */
export interface MonitorCheck {
  readonly seesField: boolean;
  /** The fields that say so, largest difference first. */
  readonly differences: readonly MonitorDifference[];
}

/** A difference that matters (common practice; proposed default). */
const LIMIT = 0.003;

/** Probability that chance alone lets some field of a series seem to be seen: a share of 1 % per campaign. */
const LEVEL = 0.002;

/**
 * An output factor is dose per MU: the ratio monitor/MU may normalise fluctuation only. Where its mean under a field
 * lies outside what the reference shows around that time, by more than 0.3 % and more than chance, the monitor sees the field
 * (shading, scatter), and the series is to be normalised by MU.
 *
 * Around that time: between the means of the visits to the reference before and after, the nearest one outside; without
 * times between the least and the largest of all visits. So a machine whose output per MU drifts or steps, which the
 * monitor is there to follow, is not taken for a monitor that sees the field.
 *
 * @param conditions the visits and fields of the series.
 * @returns undefined where readings have no monitor or no monitor units.
 */
export function checkMonitor(
  series: Series,
  conditions: readonly (ConditionRows & { readonly role: "reference" | "field" })[],
): MonitorCheck | undefined {
  const ratio = ({ monitor, mu }: Reading) => (monitor === undefined || mu === undefined ? undefined : monitor / mu);
  const ratios = conditions.map(({ rows }) => counting(series, rows).map((row) => ratio(series.readings[row]!)));
  if (ratios.some((own) => own.some((value) => value === undefined))) return undefined;
  const {
    conditions: scatters,
    covariance,
    dof,
  } = pooledCovariance(
    ratios.map((own) => own.map((value) => [value!])),
    "relative",
  );
  const relative = covariance ? covariance[0]![0]! : Number.NaN;
  const seen = conditions.map(({ name, role, rows }, i) => ({
    name,
    role,
    mean: scatters[i]!.means[0]!,
    count: scatters[i]!.count,
    time: meanTime(series, rows),
  }));
  const fields = seen.filter(({ role }) => role === "field");
  const level = fields.length > 0 ? sidakPerTest(LEVEL, fields.length) : LEVEL;
  const k = dof === null ? Number.NaN : coverageFactor(1 - level, dof);
  const visits = seen.filter(({ role }) => role === "reference").sort((a, b) => (a.time ?? 0) - (b.time ?? 0));
  const differences = fields
    .map(({ name, mean, count, time }) => {
      const nearest = nearestMean(mean, visitsAround(visits, time));
      return {
        condition: name,
        difference: nearest ? mean / nearest.mean - 1 : 0,
        U: nearest ? k * Math.sqrt(relative / count + relative / nearest.count) : 0,
      };
    })
    // without repeats U is NaN and no difference can be told from chance
    .filter(({ difference, U }) => Math.abs(difference) > Math.max(LIMIT, U))
    .sort((a, b) => Math.abs(b.difference) - Math.abs(a.difference));
  return { seesField: differences.length > 0, differences };
}

interface Visit {
  readonly mean: number;
  readonly count: number;
  readonly time: number | undefined;
}

/** The visits before and after that time, the nearest one outside; all of them where some have no time. */
function visitsAround(visits: readonly Visit[], time: number | undefined): readonly Visit[] {
  if (time === undefined || visits.some((visit) => visit.time === undefined)) return visits;
  const after = visits.findIndex((visit) => visit.time! > time);
  if (after < 0) return visits.slice(-1);
  return visits.slice(Math.max(0, after - 1), after + 1);
}

/** The visit that a ratio is to be compared with; none where it lies between those given. */
function nearestMean(ratio: number, visits: readonly Visit[]): Visit | undefined {
  const least = visits.reduce((a, b) => (b.mean < a.mean ? b : a));
  const most = visits.reduce((a, b) => (b.mean > a.mean ? b : a));
  return ratio < least.mean ? least : ratio > most.mean ? most : undefined;
}
