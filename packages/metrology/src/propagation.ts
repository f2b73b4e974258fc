import { coverageFactor } from "./distributions.ts";
import { dofOfVariances } from "./effective-dof.ts";
import { gradient } from "./gradient.ts";
import type { Evaluation, EvaluationType, PlacedBlock } from "./model.ts";
import type { Scalar } from "./tape.ts";

/** One line of an uncertainty budget. */
export interface Contribution {
  /** Key of the input. */
  readonly input: string;
  readonly label: string;
  readonly type: EvaluationType;
  readonly unit: string;
  readonly value: number;
  /** Standard uncertainty of the input. */
  readonly u: number;
  /** ∂result/∂input. */
  readonly sensitivity: number;
  /** |sensitivity|·u, in the result's unit. */
  readonly contribution: number;
  /** c_i·Σ_j c_j·u_ij / u²: with correlations kept, so that the shares add up to one. */
  readonly share: number;
}

/** A result with what the law of propagation of uncertainty says of it (JCGM 100:2008, 5.2). */
export interface Uncertainty {
  readonly value: number;
  /** Combined standard uncertainty, from the components that are known. */
  readonly u: number;
  /** Effective degrees of freedom, Infinity where every variance is taken as known; NaN where type A is unknown. */
  readonly dof: number;
  /** True where the result depends on a variance that nobody estimated: then there is no k and no U. */
  readonly typeAUnknown: boolean;
  /** Coverage factor for 95 %, NaN where type A is unknown. */
  readonly k: number;
  /** Expanded uncertainty k·u, NaN where type A is unknown. */
  readonly U: number;
}

/** The probability that expanded uncertainties cover. */
export const COVERAGE = 0.95;

/** Σ_j c_j·u_ij of every element of every block on which a result depends, with the sensitivities c. */
export interface Propagation extends Uncertainty {
  /** The values of all nodes. */
  readonly values: ArrayLike<number>;
  readonly adjoints: Float64Array;
  readonly dependent: readonly { readonly block: PlacedBlock; readonly products: Float64Array }[];
}

/**
 * Propagates the estimates' covariances to one node.
 *
 * Degrees of freedom: what one variance estimate contributes is combined first, u_g² = J_g·Σ_g·J_gᵀ over all the blocks
 * that share it, then ν_eff = u⁴ / Σ u_g⁴/ν_g (Willink, Metrologia 44, 340 (2007)).
 */
export function propagate(evaluation: Evaluation, node: Scalar): Propagation {
  const index = evaluation.model.indexOf(node);
  const adjoints = gradient(evaluation, index);
  const dependent: { block: PlacedBlock; products: Float64Array }[] = [];
  const groups = new Map<string, { variance: number; dof: number }>();
  let variance = 0;
  let typeAUnknown = false;
  for (const block of evaluation.model.blocks) {
    const n = block.elements.length;
    const { first, covariance } = block;
    let depends = false;
    for (let i = 0; i < n; i++) depends ||= (adjoints[first + i] ?? 0) !== 0;
    if (!depends) continue;
    if (block.unknown) typeAUnknown = true;
    const products = new Float64Array(n);
    let own = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) products[i]! += covariance[i * n + j]! * (adjoints[first + j] ?? 0);
      own += products[i]! * (adjoints[first + i] ?? 0);
    }
    dependent.push({ block, products });
    variance += own;
    if (block.dof !== Number.POSITIVE_INFINITY) {
      const group = groups.get(block.group);
      if (group) group.variance += own;
      else groups.set(block.group, { variance: own, dof: block.dof });
    }
  }
  const u = Math.sqrt(Math.max(0, variance));
  const dof = typeAUnknown ? Number.NaN : dofOfVariances(groups.values(), variance);
  const k = typeAUnknown ? Number.NaN : coverageFactor(COVERAGE, dof);
  const { values } = evaluation;
  return { value: values[index]!, u, dof, typeAUnknown, k, U: k * u, values, adjoints, dependent };
}

/** The budget behind a propagation: every input with a share in it, in the order of the model. */
export function budget({ values, adjoints, dependent, u }: Propagation): Contribution[] {
  const lines: Contribution[] = [];
  for (const { block, products } of dependent) {
    const n = block.elements.length;
    block.elements.forEach(({ name, label, unit }, i) => {
      const sensitivity = adjoints[block.first + i] ?? 0;
      const own = Math.sqrt(block.covariance[i * n + i]!);
      if (sensitivity === 0 || (own === 0 && !block.unknown)) return;
      lines.push({
        input: name === undefined ? block.key : `${block.key}/${name}`,
        label,
        type: block.type,
        unit: unit.symbol,
        value: values[block.first + i]!,
        u: own,
        sensitivity,
        contribution: Math.abs(sensitivity) * own,
        share: u > 0 ? (sensitivity * products[i]!) / (u * u) : 0,
      });
    });
  }
  return lines;
}

/** The covariance matrix of several nodes, nodes × nodes, row by row. */
export function covarianceOf(evaluation: Evaluation, nodes: readonly Scalar[]): Float64Array {
  const n = nodes.length;
  const all = nodes.map((node) => propagate(evaluation, node));
  const result = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      const covariance = covarianceBetween(all[i]!, all[j]!.adjoints);
      result[i * n + j] = covariance;
      result[j * n + i] = covariance;
    }
  return result;
}

/** The covariance of a propagated result with another node, given that node's adjoints. */
export function covarianceBetween({ dependent }: Propagation, other: Float64Array): number {
  let covariance = 0;
  for (const { block, products } of dependent)
    for (let i = 0; i < products.length; i++) covariance += products[i]! * (other[block.first + i] ?? 0);
  return covariance;
}
