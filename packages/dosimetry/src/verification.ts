import {
  covarianceOf,
  generalisedLeastSquares,
  type Model,
  propagate,
  RankDeficientError,
  type Scalar,
  sidakPerTest,
  sum,
  tCdf,
} from "@alcedo-dosimetry/metrology";
import { addDerived } from "./chain.ts";
import type { Separation, SeparationCondition } from "./separation.ts";

/** What a condition that was kept aside says of the weights. */
export type Verdict = "passed" | "failed" | "inconclusive";

/** One verification. */
export interface Verification {
  readonly condition: SeparationCondition;
  /** δ = S/(I·e) − 1. */
  readonly residual: Scalar;
  readonly verdict: Verdict;
  /** Two-sided p of the residual against zero; undefined where type A is unknown. */
  readonly p: number | undefined;
}

/** Family level of the test that a residual is no chance: half of the 1 % of false alarms that a campaign may raise. */
const LEVEL = 0.005;

/** A fit whose χ² has a p below this disagrees with itself. */
const DISAGREES = 0.01;

/**
 * Tests the weights on the conditions that were kept aside. With the criterion c a verification has failed if |δ| > c
 * and δ is significant (0.5 % over all verifications, Šidák), has passed if |δ| ≤ c and U(δ) ≤ 2c (proposed default), and
 * is inconclusive otherwise.
 *
 * @param criterion c, as a fraction.
 * @throws Error where a group has neither a fit condition nor a known dose: see that before.
 */
export function verify(model: Model, { conditions }: Separation, criterion: number): Verification[] {
  const aside = conditions.filter(({ role }) => role === "verify");
  const level = aside.length > 0 ? sidakPerTest(LEVEL, aside.length) : LEVEL;
  return aside.map((condition): Verification => {
    const { residual: own, name } = condition;
    if (!own) throw new Error(`nothing says what ${name} should show`);
    const label = `corrected signal of ${name} over its group's, less one`;
    const residual = own.named(`separation.verify.${name}`, `δ_${name}`, label);
    const { value, u, dof, U, typeAUnknown } = propagate(model, residual);
    const p = typeAUnknown ? undefined : u > 0 ? 2 * tCdf(-Math.abs(value) / u, dof) : value === 0 ? 1 : 0;
    const outside = Math.abs(value) > criterion;
    const verdict =
      outside && p !== undefined && p < level ? "failed" : !outside && U <= 2 * criterion ? "passed" : "inconclusive";
    return { condition, residual, verdict, p };
  });
}

/** A stem load at which the weights were proven, and by what. */
export interface ProvenLoad {
  readonly name: string;
  readonly load: Scalar;
}

/** How far up the weights are proven. */
export interface VerifiedRange {
  /** Where the highest stem load was proven, if any was. */
  readonly highest: ProvenLoad | undefined;
  /** Whether a verification passed at or above the middle of the fit's range. */
  readonly reachesMiddle: boolean;
}

/**
 * The verified range of stem load: up to the highest of the verifications that passed, and of the fit conditions where
 * the fit could have disagreed (dof ≥ 1) and did not (p ≥ 0.01). Without any passed verification or such a fit, none.
 */
export function verifiedRange(separation: Separation, verifications: readonly Verification[]): VerifiedRange {
  const passed = verifications.filter(({ verdict }) => verdict === "passed").map(({ condition }) => condition);
  const fit = separation.conditions.filter(({ role }) => role === "fit");
  const tested = separation.p !== undefined && separation.p >= DISAGREES ? fit : [];
  const loads = fit.map(({ load }) => load.value);
  const middle = (Math.min(...loads) + Math.max(...loads)) / 2;
  const proven = [...passed, ...tested];
  const highest = proven.reduce<SeparationCondition | undefined>(
    (best, condition) => (best && best.load.value >= condition.load.value ? best : condition),
    undefined,
  );
  return { highest, reachesMiddle: passed.some(({ load }) => load.value >= middle) };
}

/**
 * Slope of the straight line δ = c + m·ℓ through the verifications, which estimates −δρ: an error of the weights grows with
 * the stem load, one of the dose does not. Reported, never applied.
 *
 * Generalised least squares of the residuals on their stem loads with a free intercept, given the residuals' full
 * covariance; the slope is then a combination of the residuals with fixed weights, and its uncertainty theirs.
 *
 * @returns undefined with fewer than two stem loads, or where a residual has no uncertainty.
 */
export function residualSlope(model: Model, verifications: readonly Verification[]): Scalar | undefined {
  const loads = verifications.map(({ condition }) => condition.load.value);
  if (new Set(loads).size < 2) return undefined;
  const n = loads.length;
  const flat = covarianceOf(
    model,
    verifications.map(({ residual }) => residual),
  );
  if (loads.some((_, i) => flat[i * n + i] === 0)) return undefined;
  const covariance = loads.map((_, i) => Array.from(flat.subarray(i * n, (i + 1) * n)));
  const weights = slopeWeights(loads, covariance);
  if (!weights) return undefined;
  const terms = verifications.map(({ condition: { name }, residual }, i) => {
    const label = `weight of ${name} in the slope`;
    return residual.times(addDerived(model, "separation", `${name}/slope weight`, `c_${name}`, label, weights[i]!));
  });
  return sum(terms).named("separation.residual-slope", "−δρ", "slope of the verifications' residuals on stem load");
}

/** What each observation counts in the fitted slope: the fit is linear, so it is asked for each in turn. */
function slopeWeights(loads: readonly number[], covariance: readonly (readonly number[])[]): number[] | undefined {
  const design = loads.map((load) => [1, load]);
  try {
    return loads.map((_, i) => {
      const unit = loads.map((_, j) => (i === j ? 1 : 0));
      return generalisedLeastSquares(design, unit, covariance).coefficients[1]!;
    });
  } catch (error) {
    if (error instanceof RankDeficientError) return undefined; // stem loads that are one to rounding
    throw error;
  }
}
