/** Chandrupatla's method ends far sooner; the cap is what bisection alone could need between two doubles. */
const STEPS = 2200;

/**
 * A root of a continuous function between two points where its signs differ: inverse quadratic interpolation where the
 * points allow it, else bisection (T. R. Chandrupatla, Adv. Eng. Software 28, 145 (1997)).
 *
 * @param f - the function; called at least twice.
 * @param low - one end of the bracket.
 * @param high - the other end.
 * @param tolerance - absolute tolerance of the root beside a relative one of 2⁻⁵²; default none.
 * @returns the better end of a bracket no wider than twice the tolerance, or an exact zero.
 * @throws RangeError where the ends do not bracket a root, or f is not a number on the way.
 */
export function bracketedRoot(f: (x: number) => number, low: number, high: number, tolerance = 0): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa < 0 ? fb > 0 : fa > 0 && fb < 0))
    throw new RangeError(`no change of sign between ${low} and ${high}: the function is ${fa} and ${fb} there`);
  let fraction = 0.5;
  for (let step = 0; step < STEPS; step++) {
    const x = a + fraction * (b - a);
    const fx = f(x);
    if (Number.isNaN(fx)) throw new RangeError(`the function is not a number at ${x}`);
    // c is the point that leaves the bracket [a, b], of which a is the newest.
    let c = b;
    let fc = fb;
    if (fx < 0 === fa < 0) {
      c = a;
      fc = fa;
    } else {
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const least = (2 * Number.EPSILON * Math.abs(best) + tolerance) / Math.abs(b - a);
    if (fx === 0 || least > 0.5) return fx === 0 ? x : best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const interpolable = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    fraction = interpolable
      ? (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb))
      : 0.5;
    fraction = Math.min(1 - least, Math.max(least, fraction));
  }
  throw new RangeError(`no root to that tolerance between ${low} and ${high} in ${STEPS} steps`);
}
