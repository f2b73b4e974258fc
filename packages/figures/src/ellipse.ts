import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";

/** Covariance of two quantities: variances and covariance. */
export interface PlaneCovariance {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

/**
 * Half axes of an uncertainty ellipse over the standard uncertainty, for 95 % of a bivariate normal distribution: the
 * root of the χ² quantile with two degrees of freedom, √(−2·ln 0.05) (JCGM 102:2011, 6.5.2).
 */
export const ELLIPSE_FACTOR = 2.4477468306808166;

/** How many straight pieces stand for an ellipse. */
const PIECES = 48;

/**
 * The ellipse (p − m)ᵀ·Σ⁻¹·(p − m) = factor² as points about m: p = m + factor·L·(cos t, sin t) with Σ = L·Lᵀ (Cholesky).
 * Worked out by halving angles, so that no engine's trigonometry comes in.
 */
export function ellipsePoints({ xx, xy, yy }: PlaneCovariance, factor: number): [number, number][] {
  const l11 = Math.sqrt(Math.max(0, xx));
  const l21 = l11 > 0 ? xy / l11 : 0;
  const l22 = Math.sqrt(Math.max(0, yy - l21 * l21));
  return CIRCLE.map(([c, s]) => [factor * l11 * c, factor * (l21 * c + l22 * s)]);
}

/** Points of the unit circle, evenly spaced: multiples of 7.5°, by turning (cos 7.5°, sin 7.5°) on. */
const CIRCLE: readonly (readonly [number, number])[] = turned(PIECES);

function turned(pieces: number): [number, number][] {
  // cos 30° halved twice: cos(t/2) = √((1 + cos t)/2)
  const half = (cosine: number) => Math.sqrt((1 + cosine) / 2);
  const c = half(half(Math.sqrt(3) / 2));
  const s = Math.sqrt(1 - c * c);
  const points: [number, number][] = [[1, 0]];
  for (let k = 1; k < pieces; k++) {
    const [x, y] = points[k - 1]!;
    points.push([x * c - y * s, x * s + y * c]);
  }
  return points;
}

/** Round enlargements. */
const ENLARGEMENTS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000];

/** The largest round enlargement at which nothing reaches farther than it may; one where even that is too far. */
export function enlargement(reach: number, allowed: number): number {
  return ENLARGEMENTS.findLast((factor) => reach * factor <= allowed) ?? 1;
}

/** A closed outline. */
export function outline(points: readonly (readonly [number, number])[]): DrawingElement {
  return element("polygon", {
    points: points.map(([x, y]) => `${Math.round(x * 100) / 100},${Math.round(y * 100) / 100}`).join(" "),
    fill: "none",
    stroke: "ink",
    "stroke-width": 1,
    "stroke-dasharray": "2 2",
  });
}
