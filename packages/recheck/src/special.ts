import betaincOf from "@stdlib/math-base-special-betainc";
import erfOf from "@stdlib/math-base-special-erf";
import expOf from "@stdlib/math-base-special-exp";
import lnOf from "@stdlib/math-base-special-ln";
import tQuantileOf from "@stdlib/stats-base-dists-t-quantile";

/** eˣ. */
export const exp: (x: number) => number = expOf;

/** The natural logarithm. */
export const ln: (x: number) => number = lnOf;

/** The error function. */
export const erf: (x: number) => number = erfOf;

/** The factor t that |T| exceeds with a probability of `level` at `dof` degrees of freedom. */
export function twoSided(level: number, dof: number): number {
  return tQuantileOf(1 - level / 2, dof);
}

/** The probability of an F above `f` at `above` and `below` degrees of freedom. */
export function fUpperTail(f: number, above: number, below: number): number {
  if (f === Number.POSITIVE_INFINITY) return 0;
  return betaincOf(below / (below + above * f), below / 2, above / 2);
}
