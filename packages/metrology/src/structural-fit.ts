import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { Formula } from "./formula.ts";
import type { Kernel, KernelState } from "./kernel.ts";
import type { Model } from "./model.ts";
import type { Scalar } from "./tape.ts";
import type { Unit } from "./unit.ts";

/**
 * What the fit knows of its points beyond their coordinates. Inputs, point after point: the n coordinates q₁…qₙ, then
 * the level e; after all points, their covariances V, upper triangle row by row.
 */
export interface StructuralSpec {
  /** n, at least 2. */
  readonly coordinates: number;
  /** The intercept that each point leans on, by number from 0. */
  readonly intercept: readonly number[];
  /** Relative standard uncertainty of each point's level, for its weight. */
  readonly levelSpread: readonly number[];
  /** Symbols of the coefficients and intercepts, for formulas. */
  readonly symbols: readonly string[];
}

/** Why the search ended. */
export type StructuralReason = "converged" | "no descent" | "iteration limit";

/** The fit: outputs are a₂…aₙ, then the intercepts. */
export interface StructuralState extends KernelState {
  readonly chi2: number;
  /** Points less free parameters. */
  readonly dof: number;
  readonly iterations: number;
  readonly reason: StructuralReason;
  /** Weighted residuals (aᵀq − I·e)/√w, point by point. */
  readonly residuals: Float64Array;
  /** The fit's own covariance (AᵀWA)⁻¹, parameters × parameters: a cross-check, not the uncertainty. */
  readonly ownCovariance: Float64Array;
}

/** The points do not determine the coefficients: fewer independent ones than unknowns. */
export class IndeterminateFitError extends Error {
  override readonly name = "IndeterminateFitError";
}

const ITERATIONS = 100;

/** A change of ½χ² that is rounding and nothing else. */
const ROUNDING = 1e-20;

/**
 * The linear structural relation Σ a_c·q_c = I·e with errors in all coordinates: minimises
 * Q = Σ r²/w, r = q₁ + Σ_{c≥2} a_c·q_c − I_p·e, w = aᵀVa + (I_p·u_e)², with a₁ = 1, over a₂…aₙ and one intercept for
 * each group p of points. With one group and n = 2 it is York's line (York, Can. J. Phys. 44, 1079 (1966)).
 *
 * Derivatives are those of the minimum with respect to its inputs, by the implicit function theorem:
 * dθ/dx = −(∂²Q/∂θ²)⁻¹ ∂²Q/∂θ∂x, with second derivatives written out below.
 */
export const structuralFit: Kernel<StructuralSpec, StructuralState> = {
  kind: "structural-fit",

  evaluate(spec, inputs) {
    const problem = new StructuralProblem(spec, inputs);
    const { theta, iterations, reason } = minimise(problem);
    const { hessian } = problem.at(theta);
    return {
      outputs: theta,
      jacobian: implicitJacobian(problem, theta, hessian),
      chi2: problem.at(theta).value * 2,
      dof: problem.points - problem.parameters,
      iterations,
      reason,
      residuals: problem.residuals(theta),
      ownCovariance: problem.ownCovariance(theta),
    };
  },

  formula(spec, output): Formula {
    const coordinates = Array.from({ length: spec.coordinates }, (_, c) => `q_${c + 1}`);
    const left = coordinates.map((q, c) => (c === 0 ? q : `${spec.symbols[c - 1]}·${q}`)).join(" + ");
    return {
      kind: "solution",
      of: spec.symbols[output]!,
      where: `the best ${left} = I·e through ${spec.intercept.length} conditions`,
    };
  },
};

/** ½Q with its derivatives. The half is for tidiness: gradient r·r_j/w − ½r²·w_j/w², and no factors of two after it. */
class StructuralProblem {
  readonly points: number;
  readonly parameters: number;
  readonly n: number;
  readonly #spec: StructuralSpec;
  readonly #inputs: Float64Array;

  constructor(spec: StructuralSpec, inputs: Float64Array) {
    this.n = spec.coordinates;
    this.points = spec.intercept.length;
    this.parameters = this.n - 1 + Math.max(...spec.intercept.map((p) => p + 1));
    this.#spec = spec;
    this.#inputs = inputs;
    if (this.points < this.parameters)
      throw new IndeterminateFitError(`${this.points} points cannot determine ${this.parameters} parameters`);
  }

  q(i: number, c: number): number {
    return this.#inputs[i * (this.n + 1) + c]!;
  }

  level(i: number): number {
    return this.#inputs[i * (this.n + 1) + this.n]!;
  }

  /** Where V_cd of a point stands among the inputs. */
  varianceIndex(i: number, c: number, d: number): number {
    const [low, high] = c < d ? [c, d] : [d, c];
    const triangle = (this.n * (this.n + 1)) / 2;
    return this.points * (this.n + 1) + i * triangle + low * this.n - (low * (low - 1)) / 2 + (high - low);
  }

  /** The parameter that is the intercept of point i. */
  interceptOf(i: number): number {
    return this.n - 1 + this.#spec.intercept[i]!;
  }

  /** Residual, weight and their derivatives at a point; r is linear in θ, w quadratic. */
  point(theta: ArrayLike<number>, i: number) {
    const { n, parameters } = this;
    const a = (c: number) => (c === 0 ? 1 : theta[c - 1]!);
    const own = this.interceptOf(i);
    const intercept = theta[own]!;
    const spread = this.#spec.levelSpread[i]!;
    const va = new Float64Array(n);
    for (let c = 0; c < n; c++) for (let d = 0; d < n; d++) va[c]! += this.#inputs[this.varianceIndex(i, c, d)]! * a(d);
    let r = -intercept * this.level(i);
    let w = intercept * intercept * spread * spread;
    const rj = new Float64Array(parameters);
    const wj = new Float64Array(parameters);
    const wjk = new Float64Array(parameters * parameters);
    for (let c = 0; c < n; c++) {
      r += a(c) * this.q(i, c);
      w += a(c) * va[c]!;
      if (c === 0) continue;
      rj[c - 1] = this.q(i, c);
      wj[c - 1] = 2 * va[c]!;
      for (let d = 1; d < n; d++) wjk[(c - 1) * parameters + d - 1] = 2 * this.#inputs[this.varianceIndex(i, c, d)]!;
    }
    rj[own] = -this.level(i);
    wj[own] = 2 * intercept * spread * spread;
    wjk[own * parameters + own] = 2 * spread * spread;
    return { r, w, rj, wj, wjk };
  }

  at(theta: ArrayLike<number>): { value: number; slope: Float64Array; hessian: Matrix } {
    const { parameters: m } = this;
    let value = 0;
    const slope = new Float64Array(m);
    const hessian = Matrix.zeros(m, m);
    for (let i = 0; i < this.points; i++) {
      const { r, w, rj, wj, wjk } = this.point(theta, i);
      if (!(w > 0)) throw new IndeterminateFitError(`point ${i + 1} has no uncertainty, and so no finite weight`);
      value += (0.5 * r * r) / w;
      for (let j = 0; j < m; j++) {
        slope[j]! += (r * rj[j]!) / w - (0.5 * r * r * wj[j]!) / (w * w);
        // one half and its mirror image: rounding would make the two differ, and a factorisation refuses such a matrix
        for (let k = 0; k <= j; k++) {
          const second =
            (rj[j]! * rj[k]!) / w -
            (r * (rj[j]! * wj[k]! + rj[k]! * wj[j]!)) / (w * w) +
            (r * r * wj[j]! * wj[k]!) / (w * w * w) -
            (0.5 * r * r * wjk[j * m + k]!) / (w * w);
          hessian.set(j, k, hessian.get(j, k) + second);
          hessian.set(k, j, hessian.get(j, k));
        }
      }
    }
    return { value, slope, hessian };
  }

  residuals(theta: ArrayLike<number>): Float64Array {
    return Float64Array.from({ length: this.points }, (_, i) => {
      const { r, w } = this.point(theta, i);
      return r / Math.sqrt(w);
    });
  }

  ownCovariance(theta: ArrayLike<number>): Float64Array {
    const { parameters: m } = this;
    const information = Matrix.zeros(m, m);
    for (let i = 0; i < this.points; i++) {
      const { w, rj } = this.point(theta, i);
      for (let j = 0; j < m; j++)
        for (let k = 0; k < m; k++) information.set(j, k, information.get(j, k) + (rj[j]! * rj[k]!) / w);
    }
    return Float64Array.from(solveDefinite(information, Matrix.eye(m)).to1DArray());
  }

  /** The start of the search: least squares of q₁ on the rest, each point scaled by its first variance. */
  start(): Float64Array {
    const { parameters: m, n } = this;
    const normal = Matrix.zeros(m, m);
    const right = Matrix.zeros(m, 1);
    for (let i = 0; i < this.points; i++) {
      const row = new Float64Array(m);
      for (let c = 1; c < n; c++) row[c - 1] = this.q(i, c);
      row[this.interceptOf(i)] = -this.level(i);
      const spread = this.#spec.levelSpread[i]!;
      const w = this.#inputs[this.varianceIndex(i, 0, 0)]! + this.q(i, 0) * this.q(i, 0) * spread * spread || 1;
      for (let j = 0; j < m; j++) {
        right.set(j, 0, right.get(j, 0) - (row[j]! * this.q(i, 0)) / w);
        for (let k = 0; k < m; k++) normal.set(j, k, normal.get(j, k) + (row[j]! * row[k]!) / w);
      }
    }
    return Float64Array.from(solveDefinite(normal, right).to1DArray());
  }
}

/** Newton's method, damped where the curvature is not that of a minimum or the step would climb. */
function minimise(problem: StructuralProblem) {
  let theta = problem.start();
  let here = problem.at(theta);
  let still = false;
  for (let iterations = 1; iterations <= ITERATIONS; iterations++) {
    let damping = 0;
    for (;;) {
      const step = newtonStep(here, damping);
      const next = step && theta.map((t, j) => t - step[j]!);
      const there = next && problem.at(next);
      // where Newton's step promises less than rounding of χ² can show, a rise of it is rounding too
      const promised = step ? 0.5 * step.reduce((total, s, j) => total + s * here.slope[j]!, 0) : 0;
      const doubtful = damping === 0 && promised <= 1e-11 * here.value;
      if (there && (doubtful || there.value <= here.value * (1 + 1e-14) + ROUNDING)) {
        const small = step.every((s, j) => Math.abs(s) <= 4e-16 * Math.abs(next[j]!));
        const flat =
          there.value >= here.value * (1 - 1e-15) - ROUNDING &&
          step.every((s, j) => Math.abs(s) <= 1e-13 * Math.abs(next[j]!));
        still = Math.abs(there.value - here.value) <= here.value * 1e-14 + ROUNDING;
        theta = next;
        here = there;
        if (small || flat) return { theta, iterations, reason: "converged" as const };
        break;
      }
      damping = damping === 0 ? 1e-6 : damping * 10;
      if (damping > 1e12) return { theta, iterations, reason: "no descent" as const };
    }
  }
  // points that hardly determine the figure let it move by more than rounding of itself, and χ² stands all the same
  return { theta, iterations: ITERATIONS, reason: still ? ("converged" as const) : ("iteration limit" as const) };
}

function newtonStep({ slope, hessian }: { slope: Float64Array; hessian: Matrix }, damping: number) {
  const m = slope.length;
  const damped = hessian.clone();
  for (let j = 0; j < m; j++) damped.set(j, j, hessian.get(j, j) + damping * Math.abs(hessian.get(j, j)));
  const scale = Float64Array.from({ length: m }, (_, j) => Math.sqrt(Math.abs(damped.get(j, j))) || 1);
  const scaled = damped.clone();
  for (let j = 0; j < m; j++) for (let k = 0; k < m; k++) scaled.set(j, k, damped.get(j, k) / (scale[j]! * scale[k]!));
  const factor = new CholeskyDecomposition(scaled);
  if (!factor.isPositiveDefinite()) return undefined;
  const solution = factor.solve(Matrix.columnVector(Array.from(slope, (s, j) => s / scale[j]!)));
  return Float64Array.from({ length: m }, (_, j) => solution.get(j, 0) / scale[j]!);
}

/** Solves a symmetric positive definite system, scaled to a unit diagonal first. */
function solveDefinite(matrix: Matrix, right: Matrix): Matrix {
  const m = matrix.rows;
  const scale = Array.from({ length: m }, (_, j) => Math.sqrt(matrix.get(j, j)));
  if (!scale.every((s) => s > 0 && s < Number.POSITIVE_INFINITY))
    throw new IndeterminateFitError("the points do not determine the coefficients: χ² does not grow with one of them");
  const scaled = matrix.clone();
  const scaledRight = right.clone();
  for (let j = 0; j < m; j++) {
    for (let k = 0; k < m; k++) scaled.set(j, k, matrix.get(j, k) / (scale[j]! * scale[k]!));
    for (let k = 0; k < right.columns; k++) scaledRight.set(j, k, right.get(j, k) / scale[j]!);
  }
  const factor = new CholeskyDecomposition(scaled);
  // a pivot of 1e-13 is nothing but rounding: the points then lie on a smaller figure than the one to be fitted
  const pivots = Array.from({ length: m }, (_, j) => factor.lowerTriangularMatrix.get(j, j));
  if (!factor.isPositiveDefinite() || pivots.some((pivot) => !(pivot * pivot > 1e-13)))
    throw new IndeterminateFitError("the points do not determine the coefficients: they are not independent enough");
  const solution = factor.solve(scaledRight);
  for (let j = 0; j < m; j++)
    for (let k = 0; k < right.columns; k++) solution.set(j, k, solution.get(j, k) / scale[j]!);
  return solution;
}

/** −(∂²½Q/∂θ²)⁻¹ ∂²½Q/∂θ∂x for all inputs x. */
function implicitJacobian(problem: StructuralProblem, theta: Float64Array, hessian: Matrix): Float64Array {
  const { points, parameters: m, n } = problem;
  const inputs = points * (n + 1) + (points * n * (n + 1)) / 2;
  const mixed = Matrix.zeros(m, inputs);
  const a = (c: number) => (c === 0 ? 1 : theta[c - 1]!);
  for (let i = 0; i < points; i++) {
    const { r, w, rj, wj } = problem.point(theta, i);
    const own = problem.interceptOf(i);
    // x = q_ic: r_x = a_c; r_jx = 1 for the coefficient of that coordinate; w does not depend on q
    for (let c = 0; c < n; c++)
      for (let j = 0; j < m; j++) {
        const rjx = j === c - 1 ? 1 : 0;
        mixed.set(j, i * (n + 1) + c, (a(c) * rj[j]! + r * rjx) / w - (r * a(c) * wj[j]!) / (w * w));
      }
    // x = e_i: r_x = −I; r_jx = −1 for the intercept
    for (let j = 0; j < m; j++) {
      const rx = -theta[own]!;
      const rjx = j === own ? -1 : 0;
      mixed.set(j, i * (n + 1) + n, (rx * rj[j]! + r * rjx) / w - (r * rx * wj[j]!) / (w * w));
    }
    // x = V_cd: w_x = a_c·a_d (twice that off the diagonal); w_jx = ∂(w_x)/∂a_j; r does not depend on V
    for (let c = 0; c < n; c++)
      for (let d = c; d < n; d++) {
        const twice = c === d ? 1 : 2;
        const wx = twice * a(c) * a(d);
        for (let j = 0; j < m; j++) {
          const wjx = twice * ((j === c - 1 ? a(d) : 0) + (j === d - 1 ? a(c) : 0));
          mixed.set(
            j,
            problem.varianceIndex(i, c, d),
            (-r * rj[j]! * wx - 0.5 * r * r * wjx) / (w * w) + (r * r * wj[j]! * wx) / (w * w * w),
          );
        }
      }
  }
  return Float64Array.from(solveDefinite(hessian, mixed).mul(-1).to1DArray());
}

/** The points of a structural fit, as nodes. */
export interface StructuralPoint {
  readonly coordinates: readonly Scalar[];
  /** A node near one: the point's level relative to its intercept. */
  readonly level: Scalar;
  /** Upper triangle of the covariance of its coordinates, row by row. */
  readonly covariance: readonly Scalar[];
  readonly levelSpread: number;
  readonly intercept: number;
}

/**
 * Writes a structural fit into the model.
 * @param symbols of a₂…aₙ, then of the intercepts, for formulas.
 * @param units of a₂…aₙ, then of the intercepts.
 * @throws IndeterminateFitError where the points do not determine the parameters; RangeError where one has other
 *   numbers of coordinates or covariances than the first calls for.
 */
export function fitStructure(
  model: Model,
  points: readonly StructuralPoint[],
  symbols: readonly string[],
  units: readonly Unit[],
): { parameters: Scalar[]; state: StructuralState } {
  const n = points[0]?.coordinates.length;
  if (n === undefined) throw new IndeterminateFitError("no points cannot determine any parameter");
  points.forEach(({ coordinates, covariance }, i) => {
    if (coordinates.length !== n || covariance.length !== (n * (n + 1)) / 2)
      throw new RangeError(
        `point ${i + 1}: ${n} coordinates and ${(n * (n + 1)) / 2} covariances are needed, not ${coordinates.length} and ${covariance.length}`,
      );
  });
  const spec: StructuralSpec = {
    coordinates: n,
    intercept: points.map(({ intercept }) => intercept),
    levelSpread: points.map(({ levelSpread }) => levelSpread),
    symbols,
  };
  const inputs = [
    ...points.flatMap(({ coordinates, level }) => [...coordinates, level]),
    ...points.flatMap(({ covariance }) => covariance),
  ];
  const { outputs, state } = model.call(structuralFit, spec, inputs, units);
  return { parameters: outputs, state };
}
