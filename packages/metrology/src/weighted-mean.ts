/** Means of results with unequal standard uncertainties, with and without a variance between them. */
import { chiSquareUpper } from "./distributions.ts";

/** The mean of results that differ by their stated uncertainties alone. */
export interface WeightedMean {
  readonly mean: number;
  /** Standard uncertainty from the stated ones alone, (Σ 1/u²)^(−½). */
  readonly u: number;
  readonly chiSquare: number;
  /** Number of results less one. */
  readonly dof: number;
  /** Upper tail of χ²; null for a single result. */
  readonly p: number | null;
  /** √(χ²/dof); null for a single result. R. T. Birge, Phys. Rev. 40, 207 (1932). */
  readonly birgeRatio: number | null;
  /** u times the Birge ratio where that exceeds one, never less than u. */
  readonly scaledU: number;
}

/** The mean of results that differ by their stated uncertainties and by a variance τ² between them. */
export interface RandomEffectsMean {
  readonly mean: number;
  /** Standard uncertainty with the variance between, (Σ 1/(u² + τ²))^(−½). */
  readonly u: number;
  /** Variance between the results, in the square of their unit; zero where the stated uncertainties suffice. */
  readonly tau2: number;
}

/**
 * Weighted mean with weights 1/u².
 *
 * @param values - results, at least one.
 * @param standardUncertainties - one per result, independent, above zero.
 * @throws RangeError naming the result that is missing, not finite, or has no uncertainty above zero.
 */
export function weightedMean(values: readonly number[], standardUncertainties: readonly number[]): WeightedMean {
  requireResults(values, standardUncertainties, 1);
  const { mean, u, chiSquare } = meanAt(values, standardUncertainties, 0);
  const dof = values.length - 1;
  if (dof === 0) return { mean, u, chiSquare: 0, dof, p: null, birgeRatio: null, scaledU: u };
  const birgeRatio = Math.sqrt(chiSquare / dof);
  const p = chiSquareUpper(chiSquare, dof);
  return { mean, u, chiSquare, dof, p, birgeRatio, scaledU: u * Math.max(1, birgeRatio) };
}

/**
 * Variance between results by the method of moments: τ² = max(0, (χ² − (n − 1))/(Σw − Σw²/Σw)), w = 1/u².
 * R. DerSimonian and N. Laird, Controlled Clinical Trials 7, 177 (1986).
 *
 * @throws RangeError as `weightedMean`, or for fewer than two results.
 */
export function dersimonianLaird(
  values: readonly number[],
  standardUncertainties: readonly number[],
): RandomEffectsMean {
  requireResults(values, standardUncertainties, 2);
  let sum = 0;
  let sumOfSquares = 0;
  for (const u of standardUncertainties) {
    const weight = 1 / (u * u);
    sum += weight;
    sumOfSquares += weight * weight;
  }
  const { chiSquare } = meanAt(values, standardUncertainties, 0);
  const tau2 = Math.max(0, (chiSquare - (values.length - 1)) / (sum - sumOfSquares / sum));
  const { mean, u } = meanAt(values, standardUncertainties, tau2);
  return { mean, u, tau2 };
}

/**
 * Variance between results such that χ² with it equals n − 1; zero where χ² without it is no larger.
 * J. Mandel and R. C. Paule, Anal. Chem. 42, 1194 (1970).
 *
 * χ² falls with τ² and is convex in it, so Newton's steps from zero rise to the root without passing it.
 *
 * @throws RangeError as `weightedMean`, or for fewer than two results.
 */
export function mandelPaule(values: readonly number[], standardUncertainties: readonly number[]): RandomEffectsMean {
  requireResults(values, standardUncertainties, 2);
  let tau2 = 0;
  for (let step = 0; step < 1000; step++) {
    const { mean, u, chiSquare } = meanAt(values, standardUncertainties, tau2);
    const excess = chiSquare - (values.length - 1);
    let slope = 0;
    values.forEach((value, index) => {
      const weight = 1 / (standardUncertainties[index]! * standardUncertainties[index]! + tau2);
      slope += weight * weight * (value - mean) * (value - mean);
    });
    // By rounding alone the last step may point back: then the root is reached.
    const change = excess <= 0 ? 0 : excess / slope;
    if (change <= 1e-15 * tau2) return { mean, u, tau2 };
    tau2 += change;
  }
  throw new Error("The variance between results was not found in 1000 Newton steps: the results span too many orders.");
}

function meanAt(
  values: readonly number[],
  standardUncertainties: readonly number[],
  tau2: number,
): { mean: number; u: number; chiSquare: number } {
  // About the first value, so that a common offset costs no digits.
  const origin = values[0]!;
  let sumOfWeights = 0;
  let weightedSum = 0;
  values.forEach((value, index) => {
    const weight = 1 / (standardUncertainties[index]! * standardUncertainties[index]! + tau2);
    sumOfWeights += weight;
    weightedSum += weight * (value - origin);
  });
  const mean = origin + weightedSum / sumOfWeights;
  let chiSquare = 0;
  values.forEach((value, index) => {
    const residual = value - mean;
    chiSquare += (residual * residual) / (standardUncertainties[index]! * standardUncertainties[index]! + tau2);
  });
  return { mean, u: 1 / Math.sqrt(sumOfWeights), chiSquare };
}

function requireResults(values: readonly number[], standardUncertainties: readonly number[], least: number): void {
  if (values.length < least) {
    throw new RangeError(
      `At least ${least} result${least === 1 ? " is" : "s are"} needed, but ${values.length} given.`,
    );
  }
  if (standardUncertainties.length !== values.length) {
    throw new RangeError(
      `${values.length} results but ${standardUncertainties.length} standard uncertainties: give one for each.`,
    );
  }
  values.forEach((value, index) => {
    const u = standardUncertainties[index]!;
    if (!Number.isFinite(value)) throw new RangeError(`Result ${index + 1} is ${value}, not a finite number.`);
    if (!(u > 0 && u < Infinity)) {
      throw new RangeError(`Result ${index + 1} has standard uncertainty ${u}: it must be finite and above zero.`);
    }
  });
}
