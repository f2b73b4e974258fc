import type { Column, ColumnGraph, Varying, Work } from "./column-graph.ts";
import { IndeterminateFitError, type StructuralSpec, type StructuralState, structuralFit } from "./structural-fit.ts";

/** Newton steps that a trial may take before the search starts afresh. */
const STEPS = 8;

/** A step that is this small, in the fit's own standard uncertainties, leaves an error far smaller: Newton squares it. */
const SMALL = 1e-6;

/**
 * The structural fit, trial by trial: covariances of the points stay what they are, and each trial goes from the first
 * order prediction θ̂ + J·(x − x̂) by Newton's method to its own minimum, in two or three steps. Where that fails the whole
 * search is made; where that fails too, the trial's parameters are NaN.
 *
 * @param state what the fit found at the estimates.
 * @param at the inputs there.
 */
export function addStructuralFit(
  graph: ColumnGraph,
  spec: StructuralSpec,
  inputs: readonly Varying[],
  state: StructuralState,
  at: Float64Array,
): Column[] {
  const varying = inputs.flatMap((input, k) => (typeof input === "number" ? [] : [{ k, input }]));
  const parameters = state.outputs.length;
  return graph.add({
    inputs: varying.map(({ input }) => input),
    outputs: parameters,
    scratch: 0,
    cost: 500,
    exact: true,
    bind(columns, outputs): Work {
      const numbers = varying.map(({ k }) => k);
      const fit = new TrialFit(spec, state, at);
      return (count) => {
        for (let i = 0; i < count; i++) {
          for (let v = 0; v < numbers.length; v++) fit.inputs[numbers[v]!] = columns[v]![i]!;
          const theta = fit.solve();
          for (let j = 0; j < parameters; j++) {
            const out = outputs[j];
            if (out) out[i] = theta[j]!;
          }
        }
      };
    },
  });
}

/** One trial's fit; all arrays are made once. See structural-fit.ts for the function that is minimised. */
class TrialFit {
  readonly inputs: Float64Array;
  readonly #spec: StructuralSpec;
  readonly #state: StructuralState;
  readonly #at: Float64Array;
  readonly #theta: Float64Array;
  readonly #slope: Float64Array;
  readonly #hessian: Float64Array;
  /** Squared limit of a step, by parameter. */
  readonly #small: Float64Array;
  /** V·a of a point, r and w by the local parameters a₂…aₙ, I. */
  readonly #va: Float64Array;
  readonly #rj: Float64Array;
  readonly #wj: Float64Array;
  /** Where the local parameters stand among all. */
  readonly #place: Int32Array;

  constructor(spec: StructuralSpec, state: StructuralState, at: Float64Array) {
    const m = state.outputs.length;
    const n = spec.coordinates;
    this.#spec = spec;
    this.#state = state;
    this.#at = at;
    this.inputs = at.slice();
    this.#theta = new Float64Array(m);
    this.#slope = new Float64Array(m);
    this.#hessian = new Float64Array(m * m);
    this.#small = Float64Array.from({ length: m }, (_, j) => SMALL * SMALL * state.ownCovariance[j * m + j]!);
    this.#va = new Float64Array(n);
    this.#rj = new Float64Array(n);
    this.#wj = new Float64Array(n);
    this.#place = Int32Array.from({ length: n }, (_, j) => j);
  }

  /** The parameters at the inputs; NaN where they cannot be found. */
  solve(): Float64Array {
    this.#predict();
    for (let step = 0; step < STEPS; step++) {
      if (!this.#derive()) break;
      if (!solveInPlace(this.#hessian, this.#slope)) break;
      let small = true;
      for (let j = 0; j < this.#theta.length; j++) {
        const change = this.#slope[j]!;
        this.#theta[j]! -= change;
        if (!(change * change <= this.#small[j]!)) small = false;
      }
      if (small) return this.#theta;
    }
    return this.#search();
  }

  #predict(): void {
    const { outputs, jacobian } = this.#state;
    const inputs = this.inputs;
    const count = inputs.length;
    for (let j = 0; j < outputs.length; j++) {
      let value = outputs[j]!;
      for (let k = 0; k < count; k++) value += jacobian[j * count + k]! * (inputs[k]! - this.#at[k]!);
      this.#theta[j] = value;
    }
  }

  /** Slope and curvature of ½Q; false where a point has no finite weight. */
  #derive(): boolean {
    const { coordinates: n, intercept: intercepts, levelSpread } = this.#spec;
    const x = this.inputs;
    const theta = this.#theta;
    const m = theta.length;
    const rj = this.#rj;
    const wj = this.#wj;
    const va = this.#va;
    const place = this.#place;
    const slope = this.#slope.fill(0);
    const hessian = this.#hessian.fill(0);
    const points = intercepts.length;
    const triangle = (n * (n + 1)) / 2;
    for (let i = 0; i < points; i++) {
      const q = i * (n + 1);
      const v = points * (n + 1) + i * triangle;
      const own = n - 1 + intercepts[i]!;
      const level = x[q + n]!;
      const spread2 = levelSpread[i]! * levelSpread[i]!;
      place[n - 1] = own;
      va.fill(0);
      for (let c = 0, k = v; c < n; c++)
        for (let d = c; d < n; d++, k++) {
          va[c]! += x[k]! * (d === 0 ? 1 : theta[d - 1]!);
          if (d !== c) va[d]! += x[k]! * (c === 0 ? 1 : theta[c - 1]!);
        }
      let r = x[q]! - theta[own]! * level;
      let w = va[0]! + theta[own]! * theta[own]! * spread2;
      for (let c = 1; c < n; c++) {
        const a = theta[c - 1]!;
        r += a * x[q + c]!;
        w += a * va[c]!;
        rj[c - 1] = x[q + c]!;
        wj[c - 1] = 2 * va[c]!;
      }
      rj[n - 1] = -level;
      wj[n - 1] = 2 * theta[own]! * spread2;
      if (!(w > 0)) return false;
      // with ρ = r/w: slope ρ·r_j − ½ρ²·w_j; curvature (r_j − ρ·w_j)(r_k − ρ·w_k)/w − ½ρ²·w_jk
      const ratio = r / w;
      const half = 0.5 * ratio * ratio;
      for (let j = 0; j < n; j++) {
        const pj = place[j]!;
        slope[pj]! += ratio * rj[j]! - half * wj[j]!;
        const gj = (rj[j]! - ratio * wj[j]!) / w;
        for (let k = 0; k <= j; k++) {
          const value = gj * (rj[k]! - ratio * wj[k]!);
          hessian[pj * m + place[k]!]! += value;
        }
      }
      for (let c = 1, k = v + n; c < n; c++)
        for (let d = c; d < n; d++, k++) hessian[(d - 1) * m + c - 1]! -= half * 2 * x[k]!;
      hessian[own * m + own]! -= half * 2 * spread2;
    }
    return true;
  }

  /** The search from the start, as the kernel makes it. */
  #search(): Float64Array {
    try {
      const { outputs, reason } = structuralFit.evaluate(this.#spec, this.inputs, []);
      if (reason === "converged") return outputs;
    } catch (error) {
      if (!(error instanceof IndeterminateFitError)) throw error;
    }
    return this.#theta.fill(Number.NaN);
  }
}

/**
 * Solves for the step by Cholesky's method; the lower triangle of the matrix is overwritten.
 * @returns false where the matrix is not positive definite.
 */
function solveInPlace(matrix: Float64Array, right: Float64Array): boolean {
  const m = right.length;
  for (let j = 0; j < m; j++) {
    let pivot = matrix[j * m + j]!;
    for (let k = 0; k < j; k++) pivot -= matrix[j * m + k]! * matrix[j * m + k]!;
    if (!(pivot > 0)) return false;
    const root = Math.sqrt(pivot);
    matrix[j * m + j] = root;
    for (let i = j + 1; i < m; i++) {
      let rest = matrix[i * m + j]!;
      for (let k = 0; k < j; k++) rest -= matrix[i * m + k]! * matrix[j * m + k]!;
      matrix[i * m + j] = rest / root;
    }
    let value = right[j]!;
    for (let k = 0; k < j; k++) value -= matrix[j * m + k]! * right[k]!;
    right[j] = value / root;
  }
  for (let j = m - 1; j >= 0; j--) {
    let value = right[j]!;
    for (let k = j + 1; k < m; k++) value -= matrix[k * m + j]! * right[k]!;
    right[j] = value / matrix[j * m + j]!;
  }
  return true;
}
