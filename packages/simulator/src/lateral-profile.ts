import type { Aperture } from "./aperture.ts";
import { integral } from "./quadrature.ts";
import { cos, exp } from "./special.ts";

/** Beyond so many standard deviations a Gaussian holds nothing that a double could show beside one. */
const REACH = 8.5;

/** The laws that shape a field across the beam; lengths in mm. */
export interface Edge {
  /** Gaussian blur of the edge. */
  readonly edgeSigma_mm: number;
  /** Radius over which an unflattened beam falls to 1/√2. */
  readonly peakRadius_mm?: number;
}

/** A box of half width a under a Gaussian of standard deviation σ, at x: the convolution, integrated as it stands. */
export function boxUnderGaussian(x: number, a: number, sigma: number): number {
  const reach = REACH * sigma;
  if (x - reach >= -a && x + reach <= a) return 1;
  const scale = 1 / (sigma * Math.sqrt(2 * Math.PI));
  const kernel = (t: number) => scale * exp((-0.5 * (x - t) * (x - t)) / (sigma * sigma));
  return integral(kernel, Math.max(-a, x - reach), Math.min(a, x + reach), 3 * sigma);
}

/**
 * A disc of radius a under a two-dimensional Gaussian, at distance r from its centre: the convolution in polar
 * coordinates about the disc's centre. Around the circle the integrand is periodic and smooth, so equal steps are exact
 * once there are enough of them.
 */
export function discUnderGaussian(r: number, a: number, sigma: number): number {
  const reach = REACH * sigma;
  if (r + reach <= a) return 1;
  const variance = sigma * sigma;
  const ring = (rho: number) => {
    const z = (r * rho) / variance;
    let around = 0;
    for (const { rise, times } of halfCircle(8 + Math.ceil(4 * Math.sqrt(z)))) around += times * exp(-z * rise);
    return (rho / variance) * exp((-0.5 * (r - rho) * (r - rho)) / variance) * around;
  };
  return integral(ring, Math.max(0, r - reach), Math.min(a, r + reach), 3 * sigma);
}

/** A point of the half circle: 1 − cos φ, and the share of the circle that it stands for with its mirror image. */
interface OnCircle {
  readonly rise: number;
  readonly times: number;
}

const halfCircles = new Map<number, readonly OnCircle[]>();

/** Points in equal steps over a half circle, both ends included. */
function halfCircle(steps: number): readonly OnCircle[] {
  let points = halfCircles.get(steps);
  if (points === undefined) {
    points = Array.from({ length: steps + 1 }, (_, k) => ({
      rise: 1 - cos((Math.PI * k) / steps),
      times: (k === 0 || k === steps ? 0.5 : 1) / steps,
    }));
    halfCircles.set(steps, points);
  }
  return points;
}

/** Dose at (x, y) over that at the field's centre, at a point. */
export type Profile = (x: number, y: number) => number;

/** The lateral profile of an opening. */
export function profileOf(edge: Edge, aperture: Aperture): Profile {
  const sigma = edge.edgeSigma_mm;
  if (aperture.shape === "circle") {
    const disc = (r: number) => discUnderGaussian(r, aperture.diameter_mm / 2, sigma);
    const centre = disc(0);
    return (x, y) => (disc(Math.sqrt(x * x + y * y)) / centre) * peak(edge, x * x + y * y);
  }
  const box = (width: number, at: number) => boxUnderGaussian(at, width / 2, sigma);
  const centre = box(aperture.x_mm, 0) * box(aperture.y_mm, 0);
  return (x, y) => ((box(aperture.x_mm, x) * box(aperture.y_mm, y)) / centre) * peak(edge, x * x + y * y);
}

function peak({ peakRadius_mm }: Edge, squaredDistance: number): number {
  return peakRadius_mm === undefined ? 1 : 1 / Math.sqrt(1 + squaredDistance / (peakRadius_mm * peakRadius_mm));
}

/** True full widths at half the dose of the centre, along x and y, in mm: found on the profile by halving. */
export function widthsAtHalf(edge: Edge, aperture: Aperture): readonly [number, number] {
  const profile = profileOf(edge, aperture);
  const largest = aperture.shape === "rectangle" ? Math.max(aperture.x_mm, aperture.y_mm) : aperture.diameter_mm;
  const width = (along: (distance: number) => number) => {
    let inside = 0;
    let outside = largest / 2 + 9 * edge.edgeSigma_mm;
    for (let step = 0; step < 60; step++) {
      const middle = (inside + outside) / 2;
      if (along(middle) > 0.5) inside = middle;
      else outside = middle;
    }
    return inside + outside;
  };
  const x = width((distance) => profile(distance, 0));
  return [x, aperture.shape === "circle" ? x : width((distance) => profile(0, distance))];
}
