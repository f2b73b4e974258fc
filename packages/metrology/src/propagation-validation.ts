import type { MonteCarloResult } from "./monte-carlo.ts";
import { numericalTolerance } from "./numerical-tolerance.ts";
import type { Uncertainty } from "./propagation.ts";

/** How far the intervals of the two routes lie apart, in the result's unit. */
export interface Validation {
  /** Between the lower ends. */
  readonly low: number;
  /** Between the upper ends. */
  readonly high: number;
  /** What they may be: the numerical tolerance of the standard uncertainty from the law of propagation. */
  readonly tolerance: number;
  /** True where neither is larger. */
  readonly agrees: boolean;
}

/**
 * Whether Monte Carlo bears the law of propagation out (JCGM 101:2008, 8.1): y ± U against the symmetric interval.
 *
 * The standard asks for a run whose own figures are good to a fifth of the tolerance (8.2).
 *
 * @param digits of the standard uncertainty that are meaningful, 1 or 2.
 * @returns null where one of the intervals is unknown.
 */
export function validatePropagation(
  { value, u, U }: Pick<Uncertainty, "value" | "u" | "U">,
  { symmetric }: Pick<MonteCarloResult, "symmetric">,
  digits = 2,
): Validation | null {
  if (!symmetric || Number.isNaN(U)) return null;
  const low = Math.abs(value - U - symmetric.low);
  const high = Math.abs(value + U - symmetric.high);
  const tolerance = numericalTolerance(u, digits);
  return { low, high, tolerance, agrees: low <= tolerance && high <= tolerance };
}
