/** Location and scale that a few wild values cannot move. */

/**
 * Median; of an even number of values the mean of the middle two.
 *
 * @param values - at least one finite number; left in their order.
 * @throws RangeError for no values, or the place of one that is not finite.
 */
export function median(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError("A median needs at least one value.");
  const bad = values.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) throw new RangeError(`Value ${bad + 1} is ${values[bad]}, not a finite number.`);
  const sorted = Float64Array.from(values).sort();
  const half = Math.floor(sorted.length / 2);
  if (sorted.length % 2 === 1) return sorted[half]!;
  const lower = sorted[half - 1]!;
  const upper = sorted[half]!;
  // Halving first would round the smallest numbers, adding first would overflow the largest.
  const sum = lower + upper;
  return Number.isFinite(sum) ? 0.5 * sum : 0.5 * lower + 0.5 * upper;
}

/** σ of a normal distribution over its median absolute deviation, 1/Φ⁻¹(¾). */
export const SIGMA_PER_MAD = 1.482602218505602;

/**
 * Standard deviation estimated from the median absolute deviation from the median, for values that are normal but for
 * a few. Zero where more than half the values are equal.
 *
 * @throws RangeError as `median`.
 */
export function madSigma(values: readonly number[]): number {
  const centre = median(values);
  return SIGMA_PER_MAD * median(values.map((value) => Math.abs(value - centre)));
}
