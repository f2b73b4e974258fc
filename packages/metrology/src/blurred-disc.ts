import { besselIScaled, CHANGE, powerSeries } from "./bessel.ts";
import { gaussLegendre } from "./gauss-legendre.ts";
import { exp, expm1 } from "./special.ts";

/** Where a Gaussian of unit width has nothing left to give: e^(−40). */
const REACH = 9;
const PANEL = 3;
const RULE = 12;

/**
 * A disc of radius β blurred by a Gaussian of unit standard deviation, at the distance α from its centre:
 * 1 − Q₁(α, β) with Marcum's Q₁ = ∫_β^∞ t·e^(−(t² + α²)/2)·I₀(αt) dt. At the centre 1 − e^(−β²/2).
 *
 * By quadrature of t·e^(−(t − α)²/2)·e^(−αt)I₀(αt) up to β, over panels no wider than three standard deviations.
 * @throws RangeError for negative arguments.
 */
export function blurredDisc(alpha: number, beta: number): number {
  if (alpha < 0 || beta < 0) throw new RangeError(`the blurred disc is taken at α, β ≥ 0, not at ${alpha}, ${beta}`);
  if (Number.isNaN(alpha) || Number.isNaN(beta)) return Number.NaN;
  if (alpha === 0) return -expm1(-0.5 * beta * beta);
  const low = Math.max(0, alpha - REACH);
  const high = Math.min(beta, alpha + REACH);
  if (high <= low) return 0;
  const panels = Math.ceil((high - low) / PANEL);
  const half = (high - low) / (2 * panels);
  const { nodes, weights } = gaussLegendre(RULE);
  let total = 0;
  for (let p = 0; p < panels; p++) {
    const middle = low + (2 * p + 1) * half;
    for (let i = 0; i < RULE; i++) {
      const t = middle + half * nodes[i]!;
      total += weights[i]! * half * t * kernel(alpha, t);
    }
  }
  return total;
}

/** e^(−(t² + α²)/2)·I₀(αt): one exponential where I₀ does not overflow, else the scaled function. */
function kernel(alpha: number, t: number): number {
  const x = alpha * t;
  return x < CHANGE
    ? exp(-(t * t + alpha * alpha) / 2) * powerSeries(0, x)
    : exp((-(t - alpha) * (t - alpha)) / 2) * besselIScaled(0, x);
}

/** ∂/∂α of {@link blurredDisc}: −β·e^(−(α² + β²)/2)·I₁(αβ). */
export function blurredDiscByPlace(alpha: number, beta: number): number {
  return -beta * exp((-(alpha - beta) * (alpha - beta)) / 2) * besselIScaled(1, alpha * beta);
}

/** ∂/∂β of {@link blurredDisc}: β·e^(−(α² + β²)/2)·I₀(αβ). */
export function blurredDiscByRadius(alpha: number, beta: number): number {
  return beta * exp((-(alpha - beta) * (alpha - beta)) / 2) * besselIScaled(0, alpha * beta);
}
