import { fewestValues, symmetricInterval } from "./coverage-interval.ts";
import type { Tails } from "./heavy-tails.ts";
import { TRIALS_PER_BLOCK } from "./monte-carlo-blocks.ts";
import { numericalTolerance } from "./numerical-tolerance.ts";
import { finiteTrials, type Moments, momentsOf } from "./trial-statistics.ts";

/** Blocks of a batch: a batch holds 10⁴ trials at least (JCGM 101:2008, 7.9.4 b). */
export const BLOCKS_PER_BATCH = Math.ceil(1e4 / TRIALS_PER_BLOCK);

/** Half the width of a normal 95 % interval over its standard deviation. */
const NORMAL_HALF_WIDTH = 1.959963984540054;

/** How good is good enough. */
export interface Tolerance {
  /** Decimal digits of the standard uncertainty that are to be meaningful, 1 or 2. */
  readonly digits: number;
  /** The part of the tolerance that is asked for: 1 unless given; 0.2 where the run validates the law of propagation (8.2). */
  readonly part?: number;
}

/** What a batch found of one quantity. */
export interface BatchStatistics extends Moments {
  /** Trials that did not fail. */
  readonly count: number;
  /** Ends of the symmetric interval. */
  readonly low: number;
  readonly high: number;
}

/**
 * What a batch of trials found of one quantity.
 * @param near the value at the estimates.
 * @returns undefined where too few trials succeeded.
 */
export function batchStatistics(values: Float64Array, near: number, probability: number): BatchStatistics | undefined {
  const finite = finiteTrials(values);
  if (finite.length < Math.max(2, fewestValues(probability))) return undefined;
  return { count: finite.length, ...momentsOf(finite, near), ...symmetricInterval(finite, probability) };
}

/**
 * Whether the batches suffice by JCGM 101:2008, 7.9.4: for each of mean, standard deviation and the ends of the interval,
 * twice the standard deviation of the average over the batches is no larger than the numerical tolerance.
 *
 * Moments that the distribution lacks are not watched, nor are the ends of an interval that means nothing (type A
 * unknown); see {@link spreadOf} for the tolerance where there is no standard deviation.
 */
export function isSettled(
  batches: readonly (BatchStatistics | undefined)[],
  tails: Tails,
  { digits, part = 1 }: Tolerance,
): boolean {
  const found = batches.filter((batch) => batch !== undefined);
  if (found.length < 2 || found.length < batches.length) return false;
  const watched: number[][] = [];
  if (tails.meanExists) watched.push(found.map(({ mean }) => mean));
  if (tails.varianceExists) watched.push(found.map(({ u }) => u));
  if (!tails.typeAUnknown) watched.push(found.map(({ low }) => low));
  if (!tails.typeAUnknown) watched.push(found.map(({ high }) => high));
  const u = tails.varianceExists ? pooled(found) : spreadOf(average(found, "low"), average(found, "high"));
  const limit = part * numericalTolerance(u, digits);
  return watched.every((figures) => 2 * deviationOfMean(figures) <= limit);
}

/**
 * What stands in for the standard deviation of a distribution that has none: half the width of its 95 % interval over
 * 1.96, which for a normal distribution is the standard deviation.
 */
export function spreadOf(low: number, high: number): number {
  return (high - low) / (2 * NORMAL_HALF_WIDTH);
}

/** The standard deviation of all trials of the batches together. */
function pooled(batches: readonly BatchStatistics[]): number {
  const count = batches.reduce((total, batch) => total + batch.count, 0);
  const first = batches[0]!.mean;
  const shift = batches.reduce((total, batch) => total + batch.count * (batch.mean - first), 0) / count;
  const squares = batches.reduce((total, batch) => {
    const off = batch.mean - first - shift;
    return total + (batch.count - 1) * batch.u * batch.u + batch.count * off * off;
  }, 0);
  return Math.sqrt(squares / (count - 1));
}

function average(batches: readonly BatchStatistics[], figure: "low" | "high"): number {
  return batches.reduce((total, batch) => total + batch[figure], 0) / batches.length;
}

function deviationOfMean(figures: readonly number[]): number {
  const h = figures.length;
  return momentsOf(Float64Array.from(figures), figures[0]!).u / Math.sqrt(h);
}
