import { readingMisfit } from "./reading-fit.ts";
import type { Visit } from "./visits.ts";

/** What the readings of a visit say so far of one light. */
export interface RunningStatistics {
  /** `corrected`, or the place of a channel where there is no separation yet. */
  readonly of: "corrected" | number;
  /** Readings that count. */
  readonly count: number;
  /** Of those, in the unit of the signals. */
  readonly mean: number;
  /** Standard deviation of a reading over these readings (JCGM 100:2008, 4.2.2); absent for one. */
  readonly sd?: number;
  /**
   * Standard uncertainty of the mean, σ/√n, by the scatter of all visits of the series (JCGM 100:2008, 4.2.4: a pooled
   * estimate), those with a reading that does not fit left out but for the visit's own: three readings alone know it to
   * half its size. Absent where nothing was repeated yet.
   */
  readonly u?: number;
  /** Degrees of freedom behind `u`. */
  readonly dof: number;
}

/** When readings are enough, and how many are missing. */
export interface Enough {
  readonly enough: boolean;
  /** How many more it will take, by the scatter so far; absent where it is not known yet. */
  readonly more?: number;
}

/**
 * The criterion. Three readings, so that one that stands alone can be told from its repeats; and a mean known to 0.1 %
 * (proposed default): beside the 0.5 % of an output correction it adds a fiftieth to the combined uncertainty,
 * √(0.5² + 0.1²) = 0.51. With the beam off five readings (common practice), since a rate near zero has no percentage.
 */
export const ENOUGH = { readings: 3, relative: 0.001, dark: 5 } as const;

/**
 * Mean and scatter of the readings that count, of the corrected light where every one of them has it, else of each
 * channel.
 *
 * @param visits all visits of the campaign, whose scatter is pooled; `visit` is one of them.
 */
export function runningStatistics(visits: readonly Visit[], visit: Visit): readonly RunningStatistics[] {
  const counted = counting(visit);
  if (counted.length === 0) return [];
  const lights: RunningStatistics["of"][] = counted.every(({ corrected }) => corrected !== undefined)
    ? ["corrected"]
    : counted[0]!.signals.map((_, channel) => channel);
  return lights.map((of) => {
    const values = valuesOf(visit, of)!;
    const mean = meanOf(values);
    const { sd: relative, dof } = pooled(visits, visit, of);
    const u = relative === undefined ? undefined : relative / Math.sqrt(values.length);
    return {
      of,
      count: values.length,
      mean,
      ...(values.length > 1 && { sd: Math.sqrt(squaresOf(values, mean) / (values.length - 1)) }),
      ...(u !== undefined && { u }),
      dof,
    };
  });
}

/** Whether a visit has enough readings by {@link ENOUGH}. */
export function enough(visit: Visit, statistics: readonly RunningStatistics[]): Enough {
  const count = counting(visit).length;
  if (visit.series === "background") return { enough: count >= ENOUGH.dark, more: Math.max(0, ENOUGH.dark - count) };
  if (statistics.length === 0 || statistics.some(({ u }) => u === undefined)) return { enough: false };
  const needed = statistics.map(({ u, mean, count: n }) => {
    const times = u! / (ENOUGH.relative * Math.abs(mean));
    return Math.ceil(n * times * times - 1e-9);
  });
  const more = Math.max(0, Math.max(ENOUGH.readings, ...needed) - count);
  return Number.isFinite(more) ? { enough: more === 0, more } : { enough: false };
}

const counting = (visit: Visit) => visit.readings.filter(({ exclude }) => exclude === undefined);

/** Undefined where some reading has no such light. */
function valuesOf(visit: Visit, of: RunningStatistics["of"]): number[] | undefined {
  const values = counting(visit).map(({ signals, corrected }) => (of === "corrected" ? corrected : signals[of]));
  return values.every((value) => value !== undefined) ? values : undefined;
}

/** Scatter of a reading of that visit, in its unit: over all visits of the series in relation, with the beam off as it is. */
function pooled(visits: readonly Visit[], visit: Visit, of: RunningStatistics["of"]): { sd?: number; dof: number } {
  const dark = visit.series === "background";
  const uneven = unevenVisits(visits);
  let squares = 0;
  let dof = 0;
  for (const other of visits) {
    if (other.series !== visit.series || (other !== visit && uneven.has(other))) continue;
    const values = valuesOf(other, of);
    if (values === undefined || values.length < 2) continue;
    const mean = meanOf(values);
    if (!dark && mean === 0) continue;
    squares += dark ? squaresOf(values, mean) : squaresOf(values, mean) / (mean * mean);
    dof += values.length - 1;
  }
  if (dof === 0) return { dof };
  const scale = dark ? 1 : Math.abs(meanOf(valuesOf(visit, of)!));
  return { sd: scale * Math.sqrt(squares / dof), dof };
}

const unevenOf = new WeakMap<readonly Visit[], ReadonlySet<Visit>>();

/** Visits that hold a reading that does not fit: what it scatters by says nothing of the others. */
function unevenVisits(visits: readonly Visit[]): ReadonlySet<Visit> {
  const known = unevenOf.get(visits);
  if (known) return known;
  const uneven = new Set(
    visits.filter((visit) => visit.readings.some(({ id }) => readingMisfit(visits, visit, id, []))),
  );
  unevenOf.set(visits, uneven);
  return uneven;
}

/** About the first, so that equal readings have exactly their own value as mean. */
function meanOf(values: readonly number[]): number {
  return values[0]! + values.reduce((total, value) => total + (value - values[0]!), 0) / values.length;
}

const squaresOf = (values: readonly number[], mean: number) =>
  values.reduce((total, value) => total + (value - mean) * (value - mean), 0);
