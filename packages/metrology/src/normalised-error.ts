/** Normalised error of two results with expanded uncertainties (ISO 13528). */

/** Agreement of two results. */
export interface NormalisedError {
  /** (x1 − x2)/√(U1² + U2²), with the sign of the difference. */
  readonly en: number;
  /** Whether |E_n| ≤ 1. */
  readonly satisfactory: boolean;
}

/**
 * E_n = (x1 − x2)/√(U1² + U2²); satisfactory where |E_n| ≤ 1 (ISO 13528).
 *
 * @param first - first result.
 * @param firstExpanded - its **expanded** uncertainty, at the coverage of the second's; not the standard uncertainty.
 * @param second - second result, independent of the first and in the same unit.
 * @param secondExpanded - its expanded uncertainty.
 * @throws RangeError for numbers that are not finite, negative uncertainties, or two of zero.
 */
export function normalisedError(
  first: number,
  firstExpanded: number,
  second: number,
  secondExpanded: number,
): NormalisedError {
  if (!Number.isFinite(first) || !Number.isFinite(second)) {
    throw new RangeError(`E_n needs two finite results, but got ${first} and ${second}.`);
  }
  for (const expanded of [firstExpanded, secondExpanded]) {
    if (!(expanded >= 0 && expanded < Infinity)) {
      throw new RangeError(`An expanded uncertainty is finite and zero or above, but ${expanded} was given.`);
    }
  }
  if (firstExpanded === 0 && secondExpanded === 0) {
    throw new RangeError("E_n is undefined where both expanded uncertainties are zero.");
  }
  const en = (first - second) / Math.sqrt(firstExpanded * firstExpanded + secondExpanded * secondExpanded);
  return { en, satisfactory: Math.abs(en) <= 1 };
}
