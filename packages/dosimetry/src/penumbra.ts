import { bracketedRoot, erf, erfc, normalQuantile } from "@alcedo-dosimetry/metrology";
import { requirePositive } from "./requirement.ts";

/**
 * Distance between two levels of a wide edge with Gaussian blur, Φ(x/σ): 1.683242·σ from 20 to 80 %, 2.563103·σ from
 * 10 to 90 %.
 *
 * @param sigma - standard deviation of the blur; the result is in its unit.
 * @param low - lower level as a fraction of the plateau.
 * @param high - higher level, likewise.
 * @throws RangeError for a sigma not above zero, or levels that are not 0 < low < high < 1.
 */
export function edgePenumbra(sigma: number, low = 0.2, high = 0.8): number {
  requirePositive(sigma, "the blur of the edge");
  requireLevels(low, high);
  return sigma * (normalQuantile(high) - normalQuantile(low));
}

/** A field profile: a box of unit height convolved with a normalised Gaussian. Both lengths in one unit, above zero. */
export interface BlurredBox {
  /** Full width of the box; not the width at half maximum unless the blur is small. */
  readonly width: number;
  /** Standard deviation of the Gaussian. */
  readonly sigma: number;
}

/**
 * The profile at x from its centre, P(x) = ½·[erf((x + a)/(σ√2)) − erf((x − a)/(σ√2))], a half the width; 1 where the
 * box is wide.
 *
 * @throws RangeError for a width or sigma not above zero.
 */
export function blurredBoxAt(box: BlurredBox, x: number): number {
  const a = halfWidth(box);
  const scale = box.sigma * Math.SQRT2;
  const distance = Math.abs(x);
  // Outside the box the two terms differ in their last digits alone: there their complements are subtracted.
  if (distance > a) return 0.5 * (erfc((distance - a) / scale) - erfc((distance + a) / scale));
  return 0.5 * (erf((distance + a) / scale) + erf((a - distance) / scale));
}

/**
 * Distance from the centre at which the profile has fallen to a fraction of its central value. Relative accuracy about
 * 1e-15, times σ/width where that exceeds one.
 *
 * @param level - fraction of the central value, 0 < level < 1.
 * @throws RangeError for another level, or a width or sigma not above zero.
 */
export function blurredBoxHalfWidth(box: BlurredBox, level: number): number {
  if (!(level > 0 && level < 1)) throw new RangeError(`a level lies between 0 and 1, but is ${level}`);
  const target = level * blurredBoxAt(box, 0);
  // The profile falls from the centre on and underflows within 40 σ of the edge.
  let beyond = halfWidth(box) + box.sigma;
  while (blurredBoxAt(box, beyond) > target) beyond += box.sigma;
  return bracketedRoot((x) => blurredBoxAt(box, x) - target, 0, beyond);
}

/** Full width at half of the central value. Errors as `blurredBoxHalfWidth`. */
export function blurredBoxFwhm(box: BlurredBox): number {
  return 2 * blurredBoxHalfWidth(box, 0.5);
}

/**
 * Penumbra between two levels relative to the central value: in small fields less than the 1.683·σ of a wide edge.
 *
 * @param low - lower level as a fraction of the central value.
 * @param high - higher level, likewise.
 * @throws RangeError as `blurredBoxHalfWidth`, or for levels that are not 0 < low < high < 1.
 */
export function blurredBoxPenumbra(box: BlurredBox, low = 0.2, high = 0.8): number {
  requireLevels(low, high);
  return blurredBoxHalfWidth(box, low) - blurredBoxHalfWidth(box, high);
}

function halfWidth({ width, sigma }: BlurredBox): number {
  requirePositive(width, "the width of the box");
  requirePositive(sigma, "the blur of the box");
  return width / 2;
}

function requireLevels(low: number, high: number): void {
  if (!(low > 0 && low < high && high < 1))
    throw new RangeError(`the levels of a penumbra are 0 < low < high < 1, but are ${low} and ${high}`);
}
