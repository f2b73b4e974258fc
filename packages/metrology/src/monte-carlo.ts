import {
  type BatchStatistics,
  BLOCKS_PER_BATCH,
  batchStatistics,
  isSettled,
  spreadOf,
  type Tolerance,
} from "./adaptive-stopping.ts";
import type { Interval } from "./coverage-interval.ts";
import { type Tails, tailsOf } from "./heavy-tails.ts";
import type { Model } from "./model.ts";
import { blockRunner, mergeBlocks, TRIALS_PER_BLOCK, type TrialBlocks } from "./monte-carlo-blocks.ts";
import { numericalTolerance } from "./numerical-tolerance.ts";
import { COVERAGE } from "./propagation.ts";
import type { Scalar } from "./tape.ts";
import { finiteTrials, intervalsOf, momentsOf } from "./trial-statistics.ts";

/** Trials until they are good enough. */
export interface Adaptive extends Tolerance {
  /** No more than these, rounded up to whole batches. */
  readonly most: number;
}

/** How a Monte Carlo run is made. */
export interface MonteCarloOptions {
  /** A whole number from 0 to 2⁵³ − 1: the same seed gives the same bits. */
  readonly seed: number;
  /** So many, rounded up to whole blocks; or until they are good enough. */
  readonly trials: number | Adaptive;
  /** Of the intervals; 0.95 unless given. */
  readonly probability?: number;
}

/** The distribution of one quantity, in its unit. */
export interface MonteCarloResult {
  /** null where the distribution has no mean: it leans on a group with one degree of freedom or less. */
  readonly mean: number | null;
  /** Standard deviation; null where the distribution has no variance: it leans on a group with two degrees of freedom or less. */
  readonly u: number | null;
  /** As much probability below as above; null where type A is unknown, or nearly all trials failed. */
  readonly symmetric: Interval | null;
  /** The shortest; null where `symmetric` is. */
  readonly shortest: Interval | null;
  /** Numerical tolerance of u, or of what stands in for it where there is none; null where there is neither. */
  readonly tolerance: number | null;
  /** Trials that gave a value: all figures are of these. */
  readonly trials: number;
  /** Trials that gave none: a fit that failed, a division by zero. */
  readonly failures: number;
  /** True where it depends on a variance that nobody estimated: mean and u are of the known components alone. */
  readonly typeAUnknown: boolean;
}

/** A run with its results, in the order in which the nodes were asked for. */
export interface MonteCarloRun {
  readonly results: readonly MonteCarloResult[];
  /** Trials made. */
  readonly trials: number;
  /** Whether the tolerance was reached; null where a number of trials was asked for. */
  readonly settled: boolean | null;
}

const DIGITS = 2;

/**
 * The distributions of some nodes by Monte Carlo (JCGM 101:2008): every estimate is drawn, the tape is evaluated, and the
 * values that come out are the distribution.
 *
 * All values are kept while it runs: eight bytes for each trial and node.
 *
 * @throws RangeError where seed, trials or probability cannot be; Error where a node belongs to another model.
 */
export function monteCarlo(model: Model, nodes: readonly Scalar[], options: MonteCarloOptions): MonteCarloRun {
  const { seed, trials, probability = COVERAGE } = options;
  const run = blockRunner(model, nodes);
  if (typeof trials === "number") {
    const blocks = run(seed, 0, blocksFor(trials));
    const results = summarise(model, nodes, blocks, { probability });
    return { results, trials: blocks.to * TRIALS_PER_BLOCK, settled: null };
  }
  const tails = nodes.map((node) => tailsOf(model, node));
  const most = Math.ceil(blocksFor(trials.most) / BLOCKS_PER_BATCH);
  const parts: TrialBlocks[] = [];
  const found: (BatchStatistics | undefined)[][] = nodes.map(() => []);
  let settled = false;
  while (!settled && parts.length < most) {
    const batch = run(seed, parts.length * BLOCKS_PER_BATCH, (parts.length + 1) * BLOCKS_PER_BATCH);
    parts.push(batch);
    nodes.forEach(({ value }, k) => {
      found[k]!.push(batchStatistics(batch.values[k]!, value, probability));
    });
    settled = found.every((batches, k) => isSettled(batches, tails[k]!, trials));
  }
  const blocks = mergeBlocks(parts);
  const results = summarise(model, nodes, blocks, { probability, digits: trials.digits });
  return { results, trials: blocks.to * TRIALS_PER_BLOCK, settled };
}

/**
 * What blocks of trials say of each node.
 * @param blocks as {@link blockRunner} and {@link mergeBlocks} give them.
 * @param options of the intervals, 0.95 unless given; digits of u that are meaningful, 2 unless given.
 */
export function summarise(
  model: Model,
  nodes: readonly Scalar[],
  blocks: TrialBlocks,
  options: { readonly probability?: number; readonly digits?: number } = {},
): MonteCarloResult[] {
  const { probability = COVERAGE, digits = DIGITS } = options;
  return nodes.map((node, k) => {
    const all = blocks.values[k]!;
    const values = finiteTrials(all);
    return {
      ...distributionOf(values, node.value, tailsOf(model, node), probability, digits),
      trials: values.length,
      failures: all.length - values.length,
    };
  });
}

function distributionOf(
  values: Float64Array,
  near: number,
  { meanExists, varianceExists, typeAUnknown }: Tails,
  probability: number,
  digits: number,
): Omit<MonteCarloResult, "trials" | "failures"> {
  const moments = values.length < 2 ? null : momentsOf(values, near);
  const intervals = typeAUnknown ? null : intervalsOf(values, probability);
  const u = varianceExists ? (moments?.u ?? null) : null;
  const spread =
    u ?? (!varianceExists && intervals ? spreadOf(intervals.symmetric.low, intervals.symmetric.high) : null);
  return {
    mean: meanExists ? (moments?.mean ?? null) : null,
    u,
    symmetric: intervals?.symmetric ?? null,
    shortest: intervals?.shortest ?? null,
    tolerance: spread === null ? null : numericalTolerance(spread, digits),
    typeAUnknown,
  };
}

function blocksFor(trials: number): number {
  if (!(trials >= 1 && trials <= 4294967296))
    throw new RangeError(`${trials} trials cannot be made: ask for 1 to 4294967296`);
  return Math.ceil(trials / TRIALS_PER_BLOCK);
}
