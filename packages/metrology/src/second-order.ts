import { evaluateAt } from "./evaluation.ts";
import { gradient } from "./gradient.ts";
import type { Model } from "./model.ts";
import type { Scalar } from "./tape.ts";

/** What the law of propagation leaves out at first order. */
export interface SecondOrder {
  /** Standard uncertainty with the second-order terms. */
  readonly u: number;
  /** What the curvature adds to the mean: ½ Σ ∂²f/∂z². */
  readonly bias: number;
}

/**
 * Standard uncertainty with the second-order terms of JCGM 100:2008, 5.1.2 (note), for symmetric inputs:
 * u² = Σ_i f_i² + Σ_ij (½·f_ij² + f_i·f_ijj), derivatives along independent directions of one standard uncertainty.
 *
 * The directions are the columns of each block's Cholesky factor; f_ij and f_ijj are central differences of exact
 * gradients, a step of one standard uncertainty to either side. (The note's formula is for normal inputs.)
 */
export function secondOrder(model: Model, node: Scalar): SecondOrder {
  const result = model.indexOf(node);
  const directions: { first: number; steps: Float64Array }[] = model.blocks.flatMap((block) => {
    const n = block.elements.length;
    const factor = choleskyFactor(block.covariance, n);
    return block.elements
      .map((_, j) => ({
        first: block.first,
        steps: Float64Array.from({ length: n }, (__, i) => factor[i * n + j]!),
      }))
      .filter(({ steps }) => steps.some((step) => step !== 0));
  });
  const along = (adjoints: Float64Array) =>
    directions.map(({ first, steps }) =>
      steps.reduce((total, step, i) => total + step * (adjoints[first + i] ?? 0), 0),
    );
  const shifted = ({ first, steps }: (typeof directions)[number], sign: number) => {
    const changes = new Map<number, number>();
    steps.forEach((step, i) => {
      changes.set(first + i, model.values[first + i]! + sign * step);
    });
    return along(gradient(evaluateAt(model, changes), result));
  };
  const here = along(gradient(model, result));
  let variance = here.reduce((total, f) => total + f * f, 0);
  let bias = 0;
  directions.forEach((direction, j) => {
    const up = shifted(direction, 1);
    const down = shifted(direction, -1);
    bias += 0.25 * (up[j]! - down[j]!);
    for (let i = 0; i < here.length; i++) {
      const fij = 0.5 * (up[i]! - down[i]!);
      const fijj = up[i]! - 2 * here[i]! + down[i]!;
      variance += 0.5 * fij * fij + here[i]! * fijj;
    }
  });
  return { u: Math.sqrt(Math.max(0, variance)), bias };
}

/** The lower factor of a positive semidefinite matrix: a direction without variance gets a column of zeros. */
export function choleskyFactor(covariance: ArrayLike<number>, n: number): Float64Array {
  const factor = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    let pivot = covariance[j * n + j]!;
    for (let k = 0; k < j; k++) pivot -= factor[j * n + k]! * factor[j * n + k]!;
    if (!(pivot > 1e-14 * covariance[j * n + j]!)) continue;
    const root = Math.sqrt(pivot);
    factor[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let rest = covariance[i * n + j]!;
      for (let k = 0; k < j; k++) rest -= factor[i * n + k]! * factor[j * n + k]!;
      factor[i * n + j] = rest / root;
    }
  }
  return factor;
}
