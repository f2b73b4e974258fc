import {
  type BatchStatistics,
  BLOCKS_PER_BATCH,
  type BlockRunner,
  batchStatistics,
  blockRunner,
  COVERAGE,
  isSettled,
  type Model,
  type MonteCarloResult,
  mergeBlocks,
  type Scalar,
  summarise,
  TRIALS_PER_BLOCK,
  type TrialBlocks,
  tailsOf,
} from "@alcedo-dosimetry/metrology";
import type { Evaluation } from "./evaluate.ts";
import { linearVerdict } from "./linear-verdict.ts";
import { monteCarloFindings } from "./monte-carlo-findings.ts";
import type { Quantity } from "./result.ts";

/** What a Monte Carlo run is asked for. */
export interface MonteCarloRequest {
  /** So many, rounded up to whole blocks; `adaptive` makes them until the figures are good to two digits of u. */
  readonly trials: number | "adaptive";
  /** A whole number from 0 to 2⁵³ − 1: the same seed gives the same bits. */
  readonly seed: number;
}

/** Blocks of trials to be made: by whoever, whenever, they come out the same to the bit. */
export interface BlockOrder {
  /** Of the quantities, in order. */
  readonly ids: readonly string[];
  readonly seed: number;
  readonly from: number;
  readonly to: number;
}

/** Numbers that are kept at once: trials times quantities, 320 MB of them. More quantities than that go in turns. */
const KEPT = 4e7;

/** The most trials of an adaptive run. */
const MOST = 2e6;

/** The significant digits of u that are meant to be good. */
const DIGITS = 2;

/** Blocks of one order: enough that handing them about costs nothing, few enough to share out evenly. */
const BLOCKS_PER_ORDER = 4;

/** Makes blocks of trials of an evaluation, one order after the other. */
export function blockMaker({ model, nodes }: Evaluation): (order: BlockOrder) => TrialBlocks {
  if (!model) throw new Error("a campaign that was not evaluated has nothing to draw");
  let last: { readonly ids: string; readonly run: BlockRunner } | undefined;
  return ({ ids, seed, from, to }) => {
    const name = ids.join("\n");
    if (last?.ids !== name) last = { ids: name, run: blockRunner(model, nodesOf(nodes, ids)) };
    return last.run(seed, from, to);
  };
}

/**
 * Adds what Monte Carlo finds to an evaluation (JCGM 101:2008): to each quantity its coverage interval, mean and standard
 * deviation, and whether the law of propagation is borne out; to the result how it was done, and what there is to notice.
 * What cannot be evaluated is returned as it is.
 *
 * @throws RangeError where seed or trials cannot be.
 */
export function monteCarloOf(evaluation: Evaluation, request: MonteCarloRequest): Evaluation {
  if (!evaluation.model) return evaluation;
  const make = blockMaker(evaluation);
  const steps = monteCarloSteps(evaluation, request);
  let step = steps.next();
  while (!step.done) step = steps.next(step.value.map(make));
  return step.value;
}

/**
 * The same in steps: each yields orders of blocks that may be made side by side, and takes in what came of them, in the
 * order of the orders.
 */
export function* monteCarloSteps(
  evaluation: Evaluation,
  request: MonteCarloRequest,
): Generator<readonly BlockOrder[], Evaluation, readonly TrialBlocks[]> {
  const { model, nodes, result } = evaluation;
  if (!model) return evaluation;
  const { trials, seed } = request;
  requireTrials(trials);
  const all = [...nodes.keys()];
  const found = new Map<string, MonteCarloResult>();
  let settled: boolean | undefined;
  let made = 0;
  if (trials === "adaptive") {
    const run = yield* untilSettled(model, nodes, all, seed);
    settled = run.settled;
    made = run.blocks.to;
    collect(model, nodes, all, run.blocks, found);
  } else {
    made = Math.ceil(trials / TRIALS_PER_BLOCK);
    const turn = Math.max(1, Math.floor(KEPT / (made * TRIALS_PER_BLOCK)));
    for (let start = 0; start < all.length; start += turn) {
      const ids = all.slice(start, start + turn);
      collect(model, nodes, ids, mergeBlocks(yield ordersFor(ids, seed, 0, made)), found);
    }
  }
  const quantities = result.quantities.map((quantity) => withTrials(quantity, found.get(quantity.id)));
  const failures = Math.max(0, ...[...found.values()].map((one) => one.failures));
  const monteCarlo = { trials: made * TRIALS_PER_BLOCK, seed, failures, ...(settled !== undefined && { settled }) };
  const findings = [...result.findings, ...monteCarloFindings(quantities, monteCarlo, found)];
  return { ...evaluation, result: { ...result, monteCarlo, quantities, findings } };
}

/** Batches until all quantities have settled (JCGM 101:2008, 7.9.4), or as many as there is room for. */
function* untilSettled(
  model: Model,
  nodes: Evaluation["nodes"],
  ids: readonly string[],
  seed: number,
): Generator<readonly BlockOrder[], { blocks: TrialBlocks; settled: boolean }, readonly TrialBlocks[]> {
  const own = nodesOf(nodes, ids);
  const tails = own.map((node) => tailsOf(model, node));
  const batchTrials = BLOCKS_PER_BATCH * TRIALS_PER_BLOCK;
  const most = Math.max(2, Math.floor(Math.min(MOST, KEPT / Math.max(1, ids.length)) / batchTrials));
  const parts: TrialBlocks[] = [];
  const statistics: (BatchStatistics | undefined)[][] = own.map(() => []);
  let settled = false;
  while (!settled && parts.length < most) {
    const from = parts.length * BLOCKS_PER_BATCH;
    const batch = mergeBlocks(yield ordersFor(ids, seed, from, from + BLOCKS_PER_BATCH, 1));
    parts.push(batch);
    own.forEach(({ value }, k) => {
      statistics[k]!.push(batchStatistics(batch.values[k]!, value, COVERAGE));
    });
    // what does not vary has nothing to settle
    settled = statistics.every(
      (batches, k) => isConstant(batch.values[k]!) || isSettled(batches, tails[k]!, { digits: DIGITS }),
    );
  }
  return { blocks: mergeBlocks(parts), settled };
}

function isConstant(values: Float64Array): boolean {
  return values.every((value) => value === values[0]);
}

function ordersFor(ids: readonly string[], seed: number, from: number, to: number, size = BLOCKS_PER_ORDER) {
  const orders: BlockOrder[] = [];
  for (let start = from; start < to; start += size)
    orders.push({ ids, seed, from: start, to: Math.min(start + size, to) });
  return orders;
}

function collect(
  model: Model,
  nodes: Evaluation["nodes"],
  ids: readonly string[],
  blocks: TrialBlocks,
  found: Map<string, MonteCarloResult>,
): void {
  summarise(model, nodesOf(nodes, ids), blocks, { digits: DIGITS }).forEach((one, i) => {
    found.set(ids[i]!, one);
  });
}

function nodesOf(nodes: Evaluation["nodes"], ids: readonly string[]): Scalar[] {
  return ids.map((id) => {
    const node = nodes.get(id);
    if (!node) throw new RangeError(`there is no quantity ${id}`);
    return node;
  });
}

function withTrials(quantity: Quantity, found: MonteCarloResult | undefined): Quantity {
  if (!found) return quantity;
  const { symmetric, mean, u, failures } = found;
  const linear = linearVerdict(quantity, found);
  return {
    ...quantity,
    interval95: symmetric ? [symmetric.low, symmetric.high] : null,
    mcMean: mean,
    mcU: u,
    ...(failures > 0 && { mcFailures: failures }),
    ...(linear && { linear }),
  };
}

function requireTrials(trials: number | "adaptive"): void {
  if (trials !== "adaptive" && !(Number.isInteger(trials) && trials >= 1 && trials <= KEPT))
    throw new RangeError(`${trials} trials cannot be made: ask for 1 to ${KEPT}, or for "adaptive"`);
}
