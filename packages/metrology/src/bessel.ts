import { exp } from "./special.ts";

/** From here on the asymptotic series is exact to the last place; below, the power series is. */
export const CHANGE = 30;

/**
 * e^(−x)·I_n(x), the modified Bessel function of the first kind of order 0 or 1, scaled; x ≥ 0.
 * Power series (Abramowitz and Stegun, 9.6.10), all of one sign; beyond x = 30 the asymptotic one (9.7.1).
 * @throws RangeError for negative x.
 */
export function besselIScaled(order: 0 | 1, x: number): number {
  if (!(x >= 0)) throw new RangeError(`the scaled Bessel function is taken at x ≥ 0, not at ${x}`);
  return x < CHANGE ? powerSeries(order, x) * exp(-x) : asymptoticSeries(order, x);
}

/** I_n(x) itself, by its power series: for small x, where it does not overflow. */
export function powerSeries(order: 0 | 1, x: number): number {
  const quarter = (x * x) / 4;
  let term = order === 0 ? 1 : x / 2;
  let total = term;
  for (let k = 1; term > total * 1e-17; k++) {
    term *= quarter / (k * (k + order));
    total += term;
  }
  return total;
}

/** 1/√(2πx) · Σ (−1)^k (μ − 1)(μ − 9)…(μ − (2k − 1)²) / (k!·(8x)^k), μ = 4n². */
function asymptoticSeries(order: 0 | 1, x: number): number {
  const mu = 4 * order;
  let term = 1;
  let total = 1;
  for (let k = 1; Math.abs(term) > 1e-17; k++) {
    const odd = 2 * k - 1;
    term *= -(mu - odd * odd) / (k * 8 * x);
    total += term;
  }
  return total / Math.sqrt(2 * Math.PI * x);
}
