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

/** An uncertainty with what it is made of. */
export interface Propagation extends Uncertainty {
  /** The values of all nodes. */
  readonly values: ArrayLike<number>;
  /** The blocks on which the result depends, in the order of the model. */
  readonly dependent: readonly PlacedBlock[];
  /** c_i = ∂result/∂element for the elements of those blocks, block by block. */
  readonly sensitivities: readonly number[];
  /** Σ_j c_j·u_ij of the same elements. */
  readonly products: readonly number[];
}

/** Adjoints of the propagation at work: an evaluation asks for a hundred gradients, and keeps those of the leaves alone. */
let working = new Float64Array(0);

/**
 * Propagates the estimates' covariances to one node.
 *
 * Degrees of freedom: what one variance estimate contributes is combined first, u_g² = J_g·Σ_g·J_gᵀ over all the blocks
 * that share it, then ν_eff = u⁴ / Σ u_g⁴/ν_g (Willink, Metrologia 44, 340 (2007)).
 */
export function propagate(evaluation: Evaluation, node: Scalar): Propagation {
  const index = evaluation.model.indexOf(node);
  if (working.length <= index) working = new Float64Array(2 * (index + 1));
  const adjoints = gradient(evaluation, index, working);
  const dependent: PlacedBlock[] = [];
  let count = 0;
  for (const block of evaluation.model.blocks) {
    // blocks lie in the order of the tape: this one and those behind it were written after the node
    if (block.first > index) break;
    if (!dependsOn(adjoints, block, index)) continue;
    dependent.push(block);
    count += block.elements.length;
  }
  // of the length that is needed: grown one by one they would be the most of what an evaluation throws away
  const sensitivities = new Array<number>(count);
  const products = new Array<number>(count);
  const groups: { readonly name: string; variance: number; readonly dof: number }[] = [];
  let variance = 0;
  let typeAUnknown = false;
  let start = 0;
  for (const { elements, first, covariance, unknown, dof, group: name } of dependent) {
    const n = elements.length;
    if (unknown) typeAUnknown = true;
    for (let i = 0; i < n; i++) sensitivities[start + i] = first + i <= index ? adjoints[first + i]! : 0;
    let own = 0;
    for (let i = 0; i < n; i++) {
      let product = 0;
      for (let j = 0; j < n; j++) product += covariance[i * n + j]! * sensitivities[start + j]!;
      products[start + i] = product;
      own += product * sensitivities[start + i]!;
    }
    start += n;
    variance += own;
    if (dof !== Number.POSITIVE_INFINITY) {
      const group = groups.find((known) => known.name === name);
      if (group) group.variance += own;
      else groups.push({ name, variance: own, dof });
    }
  }
  const u = Math.sqrt(Math.max(0, variance));
  const dof = typeAUnknown ? Number.NaN : dofOfVariances(groups, variance);
  const k = typeAUnknown ? Number.NaN : coverageFactor(COVERAGE, dof);
  const { values } = evaluation;
  return { value: values[index]!, u, dof, typeAUnknown, k, U: k * u, values, dependent, sensitivities, products };
}

/** Whether a node, whose adjoints these are, depends on a block. */
function dependsOn(adjoints: Float64Array, { first, elements }: PlacedBlock, index: number): boolean {
  const end = Math.min(first + elements.length, index + 1);
  for (let node = first; node < end; node++) if (adjoints[node] !== 0) return true;
  return false;
}

/** The budget behind a propagation: every input with a share in it, in the order of the model. */
export function budget({ values, dependent, sensitivities, products, u }: Propagation): Contribution[] {
  const lines: Contribution[] = [];
  let start = 0;
  for (const { key, type, elements, covariance, unknown, first } of dependent) {
    const n = elements.length;
    for (let i = 0; i < n; i++) {
      const { name, label, unit } = elements[i]!;
      const sensitivity = sensitivities[start + i]!;
      const own = Math.sqrt(covariance[i * n + i]!);
      if (sensitivity === 0 || (own === 0 && !unknown)) continue;
      lines.push({
        input: name === undefined ? key : `${key}/${name}`,
        label,
        type,
        unit: unit.symbol,
        value: values[first + i]!,
        u: own,
        sensitivity,
        contribution: Math.abs(sensitivity) * own,
        share: u > 0 ? (sensitivity * products[start + i]!) / (u * u) : 0,
      });
    }
    start += n;
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
      const covariance = covarianceBetween(all[i]!, all[j]!);
      result[i * n + j] = covariance;
      result[j * n + i] = covariance;
    }
  return result;
}

/** The covariance of two propagated results of one evaluation. */
export function covarianceBetween(one: Propagation, other: Propagation): number {
  let covariance = 0;
  let [mine, theirs, k] = [0, 0, 0];
  for (const block of one.dependent) {
    const n = block.elements.length;
    while (k < other.dependent.length && other.dependent[k]!.first < block.first)
      theirs += other.dependent[k++]!.elements.length;
    if (other.dependent[k] === block)
      for (let i = 0; i < n; i++) covariance += one.products[mine + i]! * other.sensitivities[theirs + i]!;
    mine += n;
  }
  return covariance;
}
