import { type MonteCarloResult, validatePropagation } from "@alcedo-dosimetry/metrology";
import type { LinearVerdict, Quantity } from "./result.ts";

/**
 * Standard error of an end of a 95 % interval over u/√M, for a normal distribution: √(p(1 − p)) over the density there,
 * p = 0.025.
 */
const END_ERROR = 2.671;

/**
 * The law of propagation is validated where both ends of value ± U lie within the numerical tolerance, half of the second
 * digit of u, of those of the interval (JCGM 101:2008, 8.1). It is not where an end lies further off than that and three
 * standard errors of an end at that number of trials.
 *
 * @returns undefined where there is nothing to compare: no interval, no U, or nothing that varies.
 */
export function linearVerdict({ value, u, U }: Quantity, found: MonteCarloResult): LinearVerdict | undefined {
  if (u === null || u === 0 || U === null || found.trials === 0) return undefined;
  const validation = validatePropagation({ value, u, U }, found);
  if (!validation) return undefined;
  if (validation.agrees) return "validated";
  const open = (3 * END_ERROR * u) / Math.sqrt(found.trials);
  return Math.max(validation.low, validation.high) > validation.tolerance + open ? "not-validated" : "undecided";
}
