import { gaussLegendre, halved } from "./gauss-rule.ts";
import { erf, exp } from "./special.ts";

/** Dose across a field, in units of an unblurred field's. */
export type Dose = (x: number, y: number) => number;

const ARC = gaussLegendre(64);
/** FWHM of a Gaussian over its standard deviation, 2√(2 ln 2). */
const GAUSSIAN = 2.3548200450309493;

/** A strip from −a to a blurred by a Gaussian: the profile of one side of a rectangle. */
export function strip(x: number, a: number, sigma: number): number {
  const scale = sigma * Math.SQRT2;
  return 0.5 * (erf((x + a) / scale) - erf((x - a) / scale));
}

/**
 * A disc of radius a blurred by a Gaussian, at the distance r from its centre: chord by chord, the part of the Gaussian
 * across a chord being an error function. The chords' ends are smoothed by x = m + h·t(3 − t²)/2.
 */
export function disc(r: number, a: number, sigma: number): number {
  const reach = 9 * sigma;
  const low = Math.max(-a, r - reach);
  const high = Math.min(a, r + reach);
  if (high <= low) return 0;
  const middle = 0.5 * (low + high);
  const half = 0.5 * (high - low);
  let sum = 0;
  ARC.nodes.forEach((t, i) => {
    const x = middle + half * 0.5 * t * (3 - t * t);
    const z = (x - r) / sigma;
    const chord = Math.sqrt(Math.max(0, (a - x) * (a + x)));
    sum += ARC.weights[i]! * 1.5 * (1 - t * t) * exp(-0.5 * z * z) * erf(chord / (sigma * Math.SQRT2));
  });
  return (sum * half) / (sigma * Math.sqrt(2 * Math.PI));
}

/** The half width of the strip, or radius of the disc, whose blurred profile has this FWHM; zero where none is so narrow. */
export function unblurred(
  profile: (x: number, a: number, sigma: number) => number,
  fwhm: number,
  sigma: number,
): number {
  if (fwhm <= GAUSSIAN * sigma) return 0;
  const excess = (a: number) => profile(0.5 * fwhm, a, sigma) - 0.5 * profile(0, a, sigma);
  let high = 0.5 * fwhm;
  while (!(excess(high) > 0)) high *= 1.25;
  // Below a thousandth of σ the blurred profile is its Gaussian to the last digits.
  return halved(excess, 1e-3 * sigma, high);
}

/** How a field lies around the detector. */
export interface FieldShape {
  readonly shape: "rectangle" | "circle";
  /** Widths along x and y: FWHM where measured, else nominal, and then not blurred. */
  readonly x_mm: number;
  readonly y_mm: number;
  readonly measured: boolean;
  readonly sigma_mm: number;
}

/** The field model: a rectangle or disc blurred by a Gaussian; as narrow as the Gaussian or narrower, a Gaussian itself. */
export function blurredField({ shape, x_mm, y_mm, measured, sigma_mm }: FieldShape): Dose {
  if (shape === "rectangle") {
    const [alongX, alongY] = [x_mm, y_mm].map((width) => {
      const a = measured ? unblurred(strip, width, sigma_mm) : 0.5 * width;
      return a === 0 ? gaussian(width / GAUSSIAN) : (x: number) => strip(x, a, sigma_mm);
    });
    return (x, y) => alongX!(x) * alongY!(y);
  }
  const width = 0.5 * (x_mm + y_mm);
  const a = measured ? unblurred(disc, width, sigma_mm) : 0.5 * width;
  const radial = a === 0 ? gaussian(width / GAUSSIAN) : (r: number) => disc(r, a, sigma_mm);
  return (x, y) => radial(Math.sqrt(x * x + y * y));
}

function gaussian(s: number): (x: number) => number {
  return (x) => exp((-0.5 * x * x) / (s * s));
}
