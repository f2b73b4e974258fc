/** Nonlinear least squares by Levenberg and Marquardt's method, which always says why it stopped. */
import { jacobianDisagreement } from "./jacobian-check.ts";
import { inverseNormalMatrix, norm, solveTriangular, type TriangularForm, triangularForm } from "./triangular-form.ts";

/** What to fit. */
export interface NonlinearProblem {
  readonly observations: readonly number[];
  /** The model's value for every observation. */
  readonly values: (parameters: readonly number[]) => readonly number[];
  /** Its derivatives, observations × parameters. */
  readonly jacobian: (parameters: readonly number[]) => readonly (readonly number[])[];
  /** Where to begin. */
  readonly start: readonly number[];
  /**
   * Standard uncertainties of the observations, above zero. Where given, the covariance is that of these uncertainties;
   * where not, all observations count alike and the covariance is scaled by the residual variance.
   */
  readonly standardUncertainties?: readonly number[];
  /** Most steps to try, 500 unless given. */
  readonly iterationLimit?: number;
}

/** Why the search ended. Only "converged" leaves figures to be used. */
export type NonlinearStop =
  | {
      readonly kind: "converged";
      /**
       * "orthogonal residuals": the parameters lie within 1e-8 of their own standard uncertainty of the minimum.
       * "rounding": what is left to gain is below the rounding of the observations (an exact fit, for one).
       * "no further decrease": within 1e-4 of their standard uncertainty, and the model's own rounding hides the rest.
       */
      readonly criterion: "orthogonal residuals" | "rounding" | "no further decrease";
    }
  | { readonly kind: "iteration limit" }
  /** No step, however short, lowers χ², yet the minimum is not reached: a rough model, most likely. */
  | { readonly kind: "no progress" }
  /** A minimum, but `parameter` (index) cannot be told from those before it, or changes nothing. */
  | { readonly kind: "singular"; readonly parameter: number }
  /** The derivatives given for `parameter` (index) are not those of the values given. */
  | { readonly kind: "jacobian disagrees"; readonly parameter: number };

/** The fit. */
export interface NonlinearFit {
  readonly parameters: readonly number[];
  /** Parameters × parameters; null unless converged, and where it would need a residual variance that is not there. */
  readonly covariance: readonly (readonly number[])[] | null;
  /** Σ((observed − model)/u)², with u = 1 where no uncertainties are given. */
  readonly chiSquare: number;
  /** Observed minus model, in the observations' unit. */
  readonly residuals: readonly number[];
  /** Observations less parameters. */
  readonly dof: number;
  /** Steps tried, those that were refused included. */
  readonly iterations: number;
  readonly stopped: NonlinearStop;
}

/** Offset at which the search ends, and that at which an end for want of better is still good enough. */
const ORTHOGONAL = 1e-8;
const NEARLY_ORTHOGONAL = 1e-4;

/**
 * Minimises χ² from a given start: K. Levenberg, Q. Appl. Math. 2, 164 (1944); D. W. Marquardt, J. SIAM 11, 431 (1963);
 * columns scaled by their largest norm so far (J. J. Moré, 1978), damping after H. B. Nielsen (1999).
 *
 * Convergence is judged by the undamped step alone, since a damped step is short for the damping's sake: by the relative
 * offset of D. M. Bates and D. G. Watts, Technometrics 23, 179 (1981), the step in units of the parameters' joint
 * standard uncertainty. Neither the path nor the result depends on the parameters' units. Before a fit is called
 * converged its derivatives are compared with differences of its values. A local minimum is a minimum: that it is the
 * lowest is for the start to see to.
 *
 * @throws RangeError for shapes that do not fit, uncertainties not above zero, and a model not finite at the start.
 */
export function nonlinearLeastSquares(problem: NonlinearProblem): NonlinearFit {
  requireProblem(problem);
  const limit = problem.iterationLimit ?? 500;
  const dof = problem.observations.length - problem.start.length;
  const first = stateAt(problem, problem.start);
  if (first === null) {
    throw new RangeError(`The model is not finite at the start (${problem.start.join(", ")}): begin elsewhere.`);
  }
  let here = first;
  let scales = here.form.norms.map((value) => (value === 0 ? 1 : value));
  let damping = 1e-3;
  let growth = 2;
  let iterations = 0;

  for (;;) {
    const found = verdict(here, dof);
    if (found !== null) return fitAt(problem, here, dof, iterations, found);
    if (iterations >= limit) return fitAt(problem, here, dof, iterations, { kind: "iteration limit" });
    iterations++;

    if (gainDrowns(here)) {
      // What is left to gain in χ² is below its rounding, so χ² can no longer judge; the offset can.
      const there = stateAt(problem, moved(here, solveTriangular(here.form)));
      if (there !== null && relativeOffset(there, dof) < 0.9 * relativeOffset(here, dof)) {
        here = there;
        continue;
      }
      return fitAt(problem, here, dof, iterations, stuck(here, dof));
    }

    const step = dampedStep(here.form, scales, damping);
    const next = moved(here, step);
    if (next.every((value, j) => value === here.parameters[j])) {
      return fitAt(problem, here, dof, iterations, stuck(here, dof));
    }
    const there = stateAt(problem, next);
    const ratio = there === null ? 0 : gain(here, there) / expectedGain(here.form, scales, step, damping);
    if (there !== null && ratio > 1e-4) {
      const excess = 2 * ratio - 1;
      damping = Math.max(1e-20, damping * Math.max(1 / 3, 1 - excess * excess * excess));
      growth = 2;
      here = there;
      scales = scales.map((scale, j) => Math.max(scale, there.form.norms[j]!));
    } else {
      damping *= growth;
      growth *= 2;
    }
  }
}

/** The model and its linearisation at one place. White means divided by the standard uncertainties. */
interface FitState {
  readonly parameters: readonly number[];
  readonly residuals: readonly number[];
  readonly white: readonly number[];
  /** Norm of what the residuals are a difference of: sets their rounding. */
  readonly magnitude: number;
  readonly form: TriangularForm;
}

/** Null where the model or its derivatives are not finite. */
function stateAt(problem: NonlinearProblem, parameters: readonly number[]): FitState | null {
  const { observations, standardUncertainties } = problem;
  if (!parameters.every(Number.isFinite)) return null;
  const values = problem.values(parameters);
  requireShape(values.length === observations.length, `${values.length} values`, problem);
  if (!values.every(Number.isFinite)) return null;
  const rows = problem.jacobian(parameters);
  requireShape(
    rows.length === observations.length && rows.every((row) => row.length === parameters.length),
    `a Jacobian of ${rows.length} × ${rows[0]?.length ?? 0}`,
    problem,
  );
  if (!rows.every((row) => row.every(Number.isFinite))) return null;
  const u = (i: number): number => standardUncertainties?.[i] ?? 1;
  const residuals = observations.map((observed, i) => observed - values[i]!);
  const white = residuals.map((value, i) => value / u(i));
  const form = triangularForm(
    rows.map((row, i) => row.map((value) => value / u(i))),
    white,
  );
  const magnitude = norm(observations.map((observed, i) => (Math.abs(observed) + Math.abs(values[i]!)) / u(i)));
  return { parameters, residuals, white, magnitude, form };
}

/** Whether the search is at its end. */
function verdict(state: FitState, dof: number): NonlinearStop | null {
  const rounding = 4 * Number.EPSILON * state.magnitude;
  const dependent = state.form.dependentColumn;
  if (dependent !== null) {
    // Without full rank there is no undamped step; the gradient on scaled columns tells the minimum.
    const stationary = norm(gradient(state.form)) <= Math.max(rounding, ORTHOGONAL * norm(state.white));
    return stationary ? { kind: "singular", parameter: dependent } : null;
  }
  if (norm(state.form.projected) <= rounding) return { kind: "converged", criterion: "rounding" };
  return relativeOffset(state, dof) <= ORTHOGONAL ? { kind: "converged", criterion: "orthogonal residuals" } : null;
}

function stuck(state: FitState, dof: number): NonlinearStop {
  const near = state.form.dependentColumn === null && relativeOffset(state, dof) <= NEARLY_ORTHOGONAL;
  return near ? { kind: "converged", criterion: "no further decrease" } : { kind: "no progress" };
}

/** Root mean square of the followed part of the residuals, per parameter, over that of the rest, per degree of freedom. */
function relativeOffset(state: FitState, dof: number): number {
  const { projected, residualNorm } = state.form;
  const followed = norm(projected) / Math.sqrt(projected.length);
  return dof === 0 || residualNorm === 0 ? Infinity : followed / (residualNorm / Math.sqrt(dof));
}

function gainDrowns(state: FitState): boolean {
  return state.form.dependentColumn === null && norm(state.form.projected) <= 1e-6 * norm(state.white);
}

function gradient(form: TriangularForm): number[] {
  return form.norms.map((_, j) => form.projected.reduce((sum, value, i) => sum + value * form.triangle[i]![j]!, 0));
}

/** Minimises ‖J·step − r‖² + damping·‖scales∘step‖², from the triangle alone. */
function dampedStep(form: TriangularForm, scales: readonly number[], damping: number): number[] {
  const rows = form.triangle.map((row) => row.map((value, j) => value * form.norms[j]!));
  scales.forEach((scale, j) => {
    rows.push(scales.map((_, k) => (k === j ? Math.sqrt(damping) * scale : 0)));
  });
  return solveTriangular(triangularForm(rows, [...form.projected, ...scales.map(() => 0)]));
}

/** Fall of χ² if the model were linear: ‖J·step‖² + 2·damping·‖scales∘step‖². */
function expectedGain(
  form: TriangularForm,
  scales: readonly number[],
  step: readonly number[],
  damping: number,
): number {
  const along = norm(form.triangle.map((row) => row.reduce((sum, r, j) => sum + r * form.norms[j]! * step[j]!, 0)));
  const across = norm(step.map((value, j) => value * scales[j]!));
  return along * along + 2 * damping * across * across;
}

/** Fall of χ², as Σ(r − r′)(r + r′): the difference of the two sums would lose it in their rounding. */
function gain(here: FitState, there: FitState): number {
  return here.white.reduce((sum, value, i) => sum + (value - there.white[i]!) * (value + there.white[i]!), 0);
}

function moved(state: FitState, step: readonly number[]): number[] {
  return state.parameters.map((value, j) => value + step[j]!);
}

function fitAt(
  problem: NonlinearProblem,
  state: FitState,
  dof: number,
  iterations: number,
  reason: NonlinearStop,
): NonlinearFit {
  const disagreeing = reason.kind === "converged" ? jacobianDisagreement(problem, state.parameters) : null;
  const stopped: NonlinearStop = disagreeing === null ? reason : { kind: "jacobian disagrees", parameter: disagreeing };
  const { parameters, residuals } = state;
  const size = norm(state.white);
  const chiSquare = size * size;
  let covariance: number[][] | null = null;
  if (stopped.kind === "converged" && (problem.standardUncertainties !== undefined || dof > 0)) {
    const factor = problem.standardUncertainties === undefined ? chiSquare / dof : 1;
    covariance = inverseNormalMatrix(state.form).map((row) => row.map((entry) => entry * factor));
  }
  return { parameters, covariance, chiSquare, residuals, dof, iterations, stopped };
}

function requireProblem(problem: NonlinearProblem): void {
  const { observations, start, standardUncertainties } = problem;
  if (start.length === 0) throw new RangeError("A fit needs at least one parameter.");
  if (observations.length < start.length) {
    throw new RangeError(`${observations.length} observations cannot determine ${start.length} parameters.`);
  }
  observations.forEach((value, i) => {
    if (!Number.isFinite(value)) throw new RangeError(`Observation ${i + 1} is ${value}, not a finite number.`);
  });
  if (standardUncertainties === undefined) return;
  requireShape(
    standardUncertainties.length === observations.length,
    `${standardUncertainties.length} standard uncertainties`,
    problem,
  );
  standardUncertainties.forEach((u, i) => {
    if (!(u > 0 && u < Infinity)) {
      throw new RangeError(`Observation ${i + 1} has standard uncertainty ${u}: it must be finite and above zero.`);
    }
  });
}

function requireShape(fits: boolean, what: string, problem: NonlinearProblem): void {
  if (fits) return;
  const { observations, start } = problem;
  throw new RangeError(
    `${what} for ${observations.length} observations and ${start.length} parameters: give one for each.`,
  );
}
