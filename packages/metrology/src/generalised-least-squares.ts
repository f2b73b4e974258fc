/** Linear least squares y = X·β + e, with a known covariance of e or with one common, estimated variance. */
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { chiSquareUpper } from "./distributions.ts";
import { inverseNormalMatrix, solveTriangular, type TriangularForm, triangularForm } from "./triangular-form.ts";

/** A linear fit to observations whose covariance is known. */
export interface GeneralisedFit {
  readonly coefficients: readonly number[];
  /** (XᵀV⁻¹X)⁻¹, coefficients × coefficients; not scaled by χ². */
  readonly covariance: readonly (readonly number[])[];
  /** Observed minus fitted, in the observations' unit. */
  readonly residuals: readonly number[];
  /** eᵀV⁻¹e. */
  readonly chiSquare: number;
  /** Observations less coefficients. */
  readonly dof: number;
  /** Upper tail of χ²; null where no degree of freedom is left. */
  readonly p: number | null;
}

/** A linear fit to observations of one common, unknown variance. */
export interface OrdinaryFit {
  readonly coefficients: readonly number[];
  /** s²(XᵀX)⁻¹; null where no degree of freedom is left to estimate s². */
  readonly covariance: readonly (readonly number[])[] | null;
  readonly residuals: readonly number[];
  /** s, the residual standard deviation at `dof` degrees of freedom; null where none is left. */
  readonly residualDeviation: number | null;
  readonly dof: number;
}

/** A linear fit without a unique answer. */
export class RankDeficientError extends Error {
  override readonly name = "RankDeficientError";
  /** Index of the column of the design that follows from those before it. */
  readonly column: number;

  constructor(column: number) {
    super(
      `The fit has no unique answer: column ${column + 1} of the design is zero or a combination of the columns before it. ` +
        "Leave it out, or observe where it differs.",
    );
    this.column = column;
  }
}

/**
 * Generalised least squares (A. C. Aitken, Proc. R. Soc. Edinb. 55, 42 (1935)): the observations are whitened by the
 * Cholesky factor of their covariance, then solved by QR.
 *
 * @param design - X, observations × coefficients.
 * @param observations - y.
 * @param covariance - V of the observations, full and positive definite.
 * @throws RankDeficientError where the design does not determine the coefficients; RangeError for shapes that do not
 * fit, values that are not finite, and a covariance that is not symmetric or not positive definite.
 */
export function generalisedLeastSquares(
  design: readonly (readonly number[])[],
  observations: readonly number[],
  covariance: readonly (readonly number[])[],
): GeneralisedFit {
  const coefficientCount = requireDesign(design, observations);
  const factor = choleskyFactor(covariance, observations.length);
  const columns = Array.from({ length: coefficientCount }, (_, j) =>
    whiten(
      factor,
      design.map((row) => row[j]!),
    ),
  );
  const whiteDesign = observations.map((_, i) => columns.map((column) => column[i]!));
  const form = solvableForm(whiteDesign, whiten(factor, observations));
  const coefficients = solveTriangular(form);
  const residuals = residualsOf(design, observations, coefficients);
  const chiSquare = whiten(factor, residuals).reduce((sum, value) => sum + value * value, 0);
  const dof = observations.length - coefficientCount;
  const p = dof === 0 ? null : chiSquareUpper(chiSquare, dof);
  return { coefficients, covariance: inverseNormalMatrix(form), residuals, chiSquare, dof, p };
}

/**
 * Ordinary least squares: equal, independent, unknown variances, estimated from the residuals (as in GUM H.3). The
 * choice to scale by the residuals is the caller's, made by calling this function.
 *
 * @param design - X, observations × coefficients.
 * @param observations - y.
 * @throws RankDeficientError and RangeError as `generalisedLeastSquares`.
 */
export function ordinaryLeastSquares(
  design: readonly (readonly number[])[],
  observations: readonly number[],
): OrdinaryFit {
  const coefficientCount = requireDesign(design, observations);
  const form = solvableForm(design, observations);
  const coefficients = solveTriangular(form);
  const residuals = residualsOf(design, observations, coefficients);
  const dof = observations.length - coefficientCount;
  if (dof === 0) return { coefficients, covariance: null, residuals, residualDeviation: null, dof };
  const variance = residuals.reduce((sum, value) => sum + value * value, 0) / dof;
  const covariance = inverseNormalMatrix(form).map((row) => row.map((entry) => entry * variance));
  return { coefficients, covariance, residuals, residualDeviation: Math.sqrt(variance), dof };
}

/**
 * Value and standard uncertainty of a linear combination of a fit's coefficients, correlations included: a prediction
 * of the fitted line, or one coefficient. Null uncertainty where the fit has no covariance.
 *
 * @param fit - any fit with coefficients and their covariance.
 * @param combination - one factor per coefficient, such as a row of the design.
 * @throws RangeError for another number of factors.
 */
export function linearCombination(
  fit: Pick<OrdinaryFit, "coefficients" | "covariance">,
  combination: readonly number[],
): { value: number; u: number | null } {
  if (combination.length !== fit.coefficients.length) {
    throw new RangeError(
      `${combination.length} factors for ${fit.coefficients.length} coefficients: give one for each.`,
    );
  }
  let value = 0;
  let variance = 0;
  combination.forEach((factor, i) => {
    value += factor * fit.coefficients[i]!;
    combination.forEach((other, j) => {
      variance += factor * other * (fit.covariance?.[i]?.[j] ?? 0);
    });
  });
  return { value, u: fit.covariance === null ? null : Math.sqrt(Math.max(0, variance)) };
}

function solvableForm(rows: readonly (readonly number[])[], rightSide: readonly number[]): TriangularForm {
  const form = triangularForm(rows, rightSide);
  if (form.dependentColumn !== null) throw new RankDeficientError(form.dependentColumn);
  return form;
}

function residualsOf(
  design: readonly (readonly number[])[],
  observations: readonly number[],
  coefficients: readonly number[],
): number[] {
  return observations.map((y, i) => coefficients.reduce((rest, value, j) => rest - value * design[i]![j]!, y));
}

/** L of V = LLᵀ, refused where an observation follows from earlier ones. */
function choleskyFactor(covariance: readonly (readonly number[])[], size: number): Matrix {
  if (covariance.length !== size || covariance.some((row) => row.length !== size)) {
    throw new RangeError(`The covariance of ${size} observations has ${size} × ${size} entries.`);
  }
  const symmetric = new Matrix(size, size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const entry = covariance[i]![j]!;
      const mirror = covariance[j]![i]!;
      if (!Number.isFinite(entry))
        throw new RangeError(`Covariance (${i + 1}, ${j + 1}) is ${entry}, not a finite number.`);
      if (Math.abs(entry - mirror) > 1e-12 * (Math.abs(entry) + Math.abs(mirror))) {
        throw new RangeError(
          `The covariance is not symmetric: (${i + 1}, ${j + 1}) is ${entry}, its mirror ${mirror}.`,
        );
      }
      // Mirror images that differ by rounding count as their mean.
      symmetric.set(i, j, 0.5 * (entry + mirror));
    }
  }
  const factor = new CholeskyDecomposition(symmetric).lowerTriangularMatrix;
  for (let i = 0; i < size; i++) {
    const own = factor.get(i, i);
    if (!(own * own > size * Number.EPSILON * symmetric.get(i, i))) {
      throw new RangeError(
        `The covariance is not positive definite: observation ${i + 1} has no variance of its own beside those before it.`,
      );
    }
  }
  return factor;
}

/** L⁻¹·v. */
function whiten(factor: Matrix, values: readonly number[]): number[] {
  const white: number[] = [];
  values.forEach((value, i) => {
    let sum = value;
    for (let j = 0; j < i; j++) sum -= factor.get(i, j) * white[j]!;
    white.push(sum / factor.get(i, i));
  });
  return white;
}

function requireDesign(design: readonly (readonly number[])[], observations: readonly number[]): number {
  const coefficients = design[0]?.length ?? 0;
  if (coefficients === 0) throw new RangeError("A fit needs at least one observation and one coefficient.");
  if (design.length !== observations.length) {
    throw new RangeError(`The design has ${design.length} rows for ${observations.length} observations.`);
  }
  if (observations.length < coefficients) {
    throw new RangeError(`${observations.length} observations cannot determine ${coefficients} coefficients.`);
  }
  design.forEach((row, i) => {
    if (row.length !== coefficients) {
      throw new RangeError(`Row ${i + 1} of the design has ${row.length} entries where the first has ${coefficients}.`);
    }
    if (!row.every(Number.isFinite))
      throw new RangeError(`Row ${i + 1} of the design holds a number that is not finite.`);
    if (!Number.isFinite(observations[i]!)) {
      throw new RangeError(`Observation ${i + 1} is ${observations[i]}, not a finite number.`);
    }
  });
  return coefficients;
}
