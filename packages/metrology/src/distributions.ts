/** Normal, t, χ² and F distributions at real-valued degrees of freedom, each tail computed as a tail. */
import stdlibNormalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import stdlibTQuantile from "@stdlib/stats-base-dists-t-quantile";
import { erfc, exp, ln, regularisedBetaLower, regularisedBetaUpper, regularisedGammaUpper } from "./special.ts";

/** Distribution function Φ(z) of the standard normal, accurate in the lower tail. */
export function normalCdf(z: number): number {
  return 0.5 * erfc(-z * Math.SQRT1_2);
}

/**
 * Quantile of the standard normal. For an upper tail q use `-normalQuantile(q)`: 1 − q has lost the digits.
 *
 * @throws RangeError unless 0 ≤ p ≤ 1.
 */
export function normalQuantile(p: number): number {
  requireProbability(p);
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  if (p > 0.75) return -normalQuantile(1 - p); // 1 − p is exact here
  if (p >= 0.25) return stdlibNormalQuantile(p, 0, 1); // 2p − 1 is exact, so the library loses nothing
  // Below, Newton steps on ln Φ(z) = ln p, which is concave: from a start in the lower tail they cannot overshoot twice.
  const twiceLog = -2 * ln(p);
  let z = p < 0.02 ? -Math.sqrt(twiceLog - ln(6.283185307179586 * twiceLog)) : stdlibNormalQuantile(p, 0, 1);
  for (let step = 0; step < 20; step++) {
    const cdf = normalCdf(z);
    const density = 0.3989422804014327 * exp(-0.5 * z * z);
    const change = density === 0 ? 0 : (cdf / density) * ln(cdf / p);
    z -= change;
    if (Math.abs(change) < 1e-15 * Math.abs(z)) break;
  }
  return z;
}

/**
 * Distribution function of Student's t, accurate in the lower tail.
 *
 * @param dof - degrees of freedom, real-valued, > 0, may be `Infinity`.
 * @throws RangeError for other degrees of freedom or t not a number.
 */
export function tCdf(t: number, dof: number): number {
  requireDof(dof, "The t distribution");
  if (Number.isNaN(t))
    throw new RangeError("The t distribution was asked for the probability of a t that is not a number.");
  if (dof === Infinity) return normalCdf(t);
  if (t > 0) return 1 - tCdf(-t, dof);
  if (t === -Infinity) return 0;
  const square = t * t;
  if (square === Infinity) return 0;
  // Two forms of one tail, each with the argument that is small and therefore accurate.
  const twoTails =
    square > dof
      ? regularisedBetaLower(dof / (dof + square), 0.5 * dof, 0.5)
      : regularisedBetaUpper(square / (dof + square), 0.5, 0.5 * dof);
  return 0.5 * twoTails;
}

/**
 * Quantile of Student's t at real-valued degrees of freedom.
 *
 * Relative error below 1e-12 for |p − ½| > 1e-5; nearer the middle the absolute error stays below 2e-8. Above a million
 * degrees of freedom Fisher's expansion about the normal quantile (Abramowitz and Stegun 26.7.5) is exact in double
 * precision, and safe where the library returns zero (from 1e20).
 *
 * @param dof - degrees of freedom, > 0, may be `Infinity`.
 * @throws RangeError unless 0 ≤ p ≤ 1 and dof > 0.
 */
export function tQuantile(p: number, dof: number): number {
  requireProbability(p);
  requireDof(dof, "The t distribution");
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  if (p === 0.5) return 0;
  if (p > 0.5) return -tQuantile(1 - p, dof);
  if (dof === Infinity) return normalQuantile(p);
  if (dof > 1e6) {
    const z = normalQuantile(p);
    const z2 = z * z;
    const first = (z * (z2 + 1)) / 4;
    const second = (z * (3 + z2 * (16 + 5 * z2))) / 96;
    const third = (z * (-15 + z2 * (17 + z2 * (19 + 3 * z2)))) / 384;
    return z + (first + (second + third / dof) / dof) / dof;
  }
  return stdlibTQuantile(p, dof);
}

/**
 * P(χ² > x): the upper tail through the upper incomplete gamma function, to about 1e-13 relative however small.
 *
 * @throws RangeError unless dof > 0 is finite and x ≥ 0.
 */
export function chiSquareUpper(x: number, dof: number): number {
  requireFiniteDof(dof, "The chi-square distribution");
  requireNonNegative(x, "A chi-square value");
  return regularisedGammaUpper(0.5 * dof, 0.5 * x);
}

/**
 * P(F > x) for the ratio of two variance estimates.
 *
 * Relative error about 1e-13 for ordinary degrees of freedom, 3e-12 at dof2 = 1e5; from dof2 = 1e15 on the denominator
 * counts as known and χ²/dof1 takes over.
 *
 * @param dof1 - degrees of freedom of the numerator, finite.
 * @param dof2 - degrees of freedom of the denominator, may be `Infinity`.
 * @throws RangeError for other degrees of freedom or x < 0.
 */
export function fUpper(x: number, dof1: number, dof2: number): number {
  requireFiniteDof(dof1, "The F distribution's numerator");
  requireDof(dof2, "The F distribution's denominator");
  requireNonNegative(x, "A variance ratio");
  if (x === Infinity) return 0;
  const weighted = dof1 * x;
  if (dof2 >= 1e15) return chiSquareUpper(weighted, dof1);
  return weighted > dof2
    ? regularisedBetaLower(dof2 / (dof2 + weighted), 0.5 * dof2, 0.5 * dof1)
    : regularisedBetaUpper(weighted / (dof2 + weighted), 0.5 * dof1, 0.5 * dof2);
}

/**
 * Coverage factor k of a two-sided interval: t at (1 + probability)/2 and real-valued degrees of freedom (GUM G.3).
 *
 * @param probability - coverage probability, 0 < probability < 1, such as 0.95.
 * @param dof - effective degrees of freedom, not rounded; may be `Infinity`.
 * @throws RangeError for a probability outside, or dof not above zero.
 */
export function coverageFactor(probability: number, dof: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`A coverage probability lies between 0 and 1, such as 0.95, but ${probability} was given.`);
  }
  return -tQuantile(0.5 * (1 - probability), dof);
}

function requireProbability(p: number): void {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`A probability lies from 0 to 1, but ${p} was given.`);
}

function requireDof(dof: number, whose: string): void {
  if (!(dof > 0)) throw new RangeError(`${whose} needs degrees of freedom above zero, but ${dof} was given.`);
}

function requireFiniteDof(dof: number, whose: string): void {
  requireDof(dof, whose);
  if (dof === Infinity) throw new RangeError(`${whose} needs finite degrees of freedom, but Infinity was given.`);
}

function requireNonNegative(x: number, what: string): void {
  if (!(x >= 0)) throw new RangeError(`${what} is zero or above, but ${x} was given.`);
}
