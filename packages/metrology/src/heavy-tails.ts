import { evaluateAt } from "./evaluation.ts";
import { gradient } from "./gradient.ts";
import type { Model, PlacedBlock } from "./model.ts";
import { neededNodes } from "./needed-nodes.ts";
import { IndeterminateFitError } from "./structural-fit.ts";
import type { Scalar } from "./tape.ts";

/** What a result inherits from the variance estimates behind it. */
export interface Tails {
  /** True where it depends on a variance that nobody estimated: its distribution is not known. */
  readonly typeAUnknown: boolean;
  /** False where it depends on a group with one degree of freedom or less: t then has no mean. */
  readonly meanExists: boolean;
  /** False where it depends on a group with two degrees of freedom or less: t then has no variance. */
  readonly varianceExists: boolean;
}

/**
 * Which moments the distribution of a result has.
 *
 * It depends on a block where its gradient says so, or where it moves with the block's elements shifted: at an extremum
 * the gradient alone would miss it.
 */
export function tailsOf(model: Model, node: Scalar): Tails {
  const index = model.indexOf(node);
  const adjoints = gradient(model, index);
  const needed = neededNodes(model, [index]);
  const depends = (block: PlacedBlock) => {
    const elements = block.elements.map((_, i) => block.first + i);
    if (elements.some((element) => (adjoints[element] ?? 0) !== 0)) return true;
    if (!elements.some((element) => needed[element])) return false;
    return movesWith(model, block, index);
  };
  const drawn = model.blocks.filter(({ unknown, covariance }) => !unknown && covariance.some((entry) => entry !== 0));
  const heavy = drawn.filter(({ dof }) => dof <= 2).filter(depends);
  return {
    typeAUnknown: model.blocks.some((block) => block.unknown && depends(block)),
    meanExists: heavy.every(({ dof }) => dof > 1),
    varianceExists: heavy.length === 0,
  };
}

/** Whether a node changes when the elements of a block move by unlike amounts, so that no two moves cancel. */
function movesWith(model: Model, { first, elements, covariance }: PlacedBlock, index: number): boolean {
  const n = elements.length;
  const changes = new Map(
    elements.map(({ value }, i) => {
      const size = Math.sqrt(covariance[i * n + i]!) || 1e-3 * Math.abs(value) || 1e-3;
      return [first + i, value + size * (0.618 + 0.1 * Math.sqrt(i + 2))];
    }),
  );
  try {
    return !Object.is(evaluateAt(model, changes).values[index], model.values[index]);
  } catch (error) {
    // a fit that breaks down when they move depends on them
    if (error instanceof IndeterminateFitError) return true;
    throw error;
  }
}
