import type { SideBySideRow } from "./side-by-side.ts";

/** What two routes say of each other in one figure. */
export type Agreement = "agree" | "apart" | "one route alone";

/** Values agree where they differ by this part of the uncertainty at most: no reader could tell the two reports apart. */
const VALUE = 0.01;
/** With none (a correction of one) by this part of the value; a χ², which is of the order of one, by so much. */
const RELATIVE = 1e-6;
/** Uncertainties agree to this part: the second route takes them from differences, not from derivatives. */
const UNCERTAINTY = 0.02;

/**
 * Whether the two routes agree in a figure, in its value and in its uncertainty. Some figures only one route gives, since
 * they compare what the other has no counterpart of (a verified stem load, a comparison with a reference set).
 */
export function agreement({ value, recheckValue, difference, u, recheckU }: SideBySideRow): Agreement {
  if (value === null || recheckValue === null || difference === null) return "one route alone";
  const room = Math.max(VALUE * (u ?? 0), RELATIVE * Math.max(u === null ? 1 : 0, Math.abs(value)));
  if (!(Math.abs(difference) <= room)) return "apart";
  if (u === null || recheckU === null) return u === recheckU ? "agree" : "apart";
  return Math.abs(recheckU - u) <= UNCERTAINTY * u + Number.EPSILON ? "agree" : "apart";
}
