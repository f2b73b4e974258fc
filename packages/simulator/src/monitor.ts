import type { RandomStream } from "./random-stream.ts";
import { exp } from "./special.ts";

/** A second detector that follows the beam's output. */
export interface Monitor {
  readonly readingPerMU: number;
  /** Relative standard deviation of a reading. */
  readonly noise: number;
  /** How much less it reads under the smallest fields, as a fraction; 0 where the field does not reach it. */
  readonly shading: number;
  /** Side over which the shading falls to 1/e. */
  readonly shadingSide_mm: number;
  readonly decimals: number;
}

/**
 * What the monitor shows.
 *
 * @param output MU delivered times the output of the moment over its nominal value.
 * @param noiseFactor standard deviation over its own: 0 for none.
 */
export function monitorReading(
  monitor: Monitor,
  output: number,
  side_mm: number,
  referenceSide_mm: number,
  noiseFactor: number,
  random: RandomStream,
): number {
  const hidden = exp(-side_mm / monitor.shadingSide_mm) - exp(-referenceSide_mm / monitor.shadingSide_mm);
  const noise = 1 + noiseFactor * monitor.noise * random.normal();
  return monitor.readingPerMU * output * (1 - monitor.shading * hidden) * noise;
}
