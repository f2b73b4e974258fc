import type { Scalar } from "@alcedo-dosimetry/metrology";
import type { WildCondition } from "./repeats.ts";

/** One group of background readings: its rate by channel, and when it was taken. */
export interface BackgroundGroup {
  readonly name: string;
  readonly count: number;
  readonly time: number | undefined;
  /** b_c in signal units per s. */
  readonly rates: readonly Scalar[];
}

/** The background of a campaign. */
export interface Background {
  /** Name of the series. */
  readonly series: string;
  /** In order of time where all groups have one, else as they stand. */
  readonly groups: readonly BackgroundGroup[];
  /** Mean rate over all readings, by channel; nodes named `background.<channel>`. */
  readonly rates: readonly Scalar[];
  readonly dof: number | undefined;
  readonly wild: readonly WildCondition[];
  /** What one reading scatters by with the beam off: channels × channels, in signal units squared; needs repeats. */
  readonly noise?: { readonly covariance: Float64Array; readonly dof: number };
}

/**
 * How much each group of the background counts for a reading taken at that time: linear between the groups before and
 * after, the nearest one outside; without times, by their numbers of readings.
 */
export function backgroundWeights({ groups }: Pick<Background, "groups">, time: number | undefined): number[] {
  const total = groups.reduce((count, group) => count + group.count, 0);
  if (time === undefined || groups.some((group) => group.time === undefined))
    return groups.map(({ count }) => count / total);
  const times = groups.map((group) => group.time!);
  const after = times.findIndex((own) => own > time);
  const last = groups.length - 1;
  const weights = groups.map(() => 0);
  if (after === 0) weights[0] = 1;
  else if (after < 0) weights[last] = 1;
  else {
    const part = (time - times[after - 1]!) / (times[after]! - times[after - 1]!);
    weights[after - 1] = 1 - part;
    weights[after] = part;
  }
  return weights;
}
