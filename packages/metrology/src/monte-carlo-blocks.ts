import type { Model } from "./model.ts";
import { modelColumns } from "./model-columns.ts";
import type { Scalar } from "./tape.ts";

/** Trials of a block: few enough that the columns at work stay in the cache. Results depend on it to the last bit. */
export const TRIALS_PER_BLOCK = 2048;

/** What blocks of trials gave. */
export interface TrialBlocks {
  /** Number of the first block. */
  readonly from: number;
  /** Number of the block after the last. */
  readonly to: number;
  /** For each node its value in every trial, block after block; not finite where the trial failed. */
  readonly values: readonly Float64Array[];
}

/** Evaluates blocks `from` to `to` − 1. */
export type BlockRunner = (seed: number, from: number, to: number) => TrialBlocks;

/**
 * Makes a model ready to be evaluated over blocks of trials. A block depends on model, node, seed and its own number
 * alone: whoever evaluates it, in whatever order, and beside whatever other nodes, gets the same bits.
 *
 * @throws Error where a node belongs to another model.
 */
export function blockRunner(model: Model, nodes: readonly Scalar[]): BlockRunner {
  const columns = modelColumns(model, nodes, TRIALS_PER_BLOCK);
  return (seed, from, to) => {
    if (!(Number.isInteger(from) && Number.isInteger(to) && from >= 0 && to > from))
      throw new RangeError(`blocks ${from} to ${to} are no blocks: from is 0 or above, and to above it`);
    const values = nodes.map(() => new Float64Array((to - from) * TRIALS_PER_BLOCK));
    for (let block = from; block < to; block++) {
      const start = (block - from) * TRIALS_PER_BLOCK;
      columns.run(seed, block).forEach((column, k) => {
        if (typeof column === "number") values[k]!.fill(column, start, start + TRIALS_PER_BLOCK);
        else values[k]!.set(column, start);
      });
    }
    return { from, to, values };
  };
}

/**
 * Puts blocks together that were evaluated apart, in the order of their numbers.
 * @throws RangeError where there are none, where one is missing or there twice, or where they are of different nodes.
 */
export function mergeBlocks(parts: readonly TrialBlocks[]): TrialBlocks {
  const sorted = [...parts].sort((a, b) => a.from - b.from);
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (!first || !last) throw new RangeError("there are no blocks to put together");
  sorted.forEach(({ from, values }, i) => {
    const before = sorted[i - 1];
    if (before && before.to !== from)
      throw new RangeError(
        `blocks up to ${before.to - 1} are followed by block ${from}: one is missing or there twice`,
      );
    if (values.length !== first.values.length)
      throw new RangeError(`blocks of ${first.values.length} and of ${values.length} nodes do not belong together`);
  });
  const values = first.values.map((_, k) => {
    const all = new Float64Array((last.to - first.from) * TRIALS_PER_BLOCK);
    for (const part of sorted) all.set(part.values[k]!, (part.from - first.from) * TRIALS_PER_BLOCK);
    return all;
  });
  return { from: first.from, to: last.to, values };
}
