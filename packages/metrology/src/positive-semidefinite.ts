/** How far below zero a pivot may come of covariances that somebody has rounded, relative to the element's variance. */
const ROUNDING = 1e-5;

/**
 * Whether a symmetric matrix can be a covariance: no combination of the elements has a negative variance. Gaussian
 * elimination on the correlations; a pivot below zero by more than rounding tells.
 *
 * @param covariance n × n, row by row, with variances at or above zero.
 */
export function isPositiveSemidefinite(covariance: ArrayLike<number>, n: number): boolean {
  const rest = new Float64Array(covariance);
  const scales = new Float64Array(n);
  for (let i = 0; i < n; i++) scales[i] = Math.sqrt(covariance[i * n + i]!);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      if (scales[i]! > 0 && scales[j]! > 0) rest[i * n + j] = rest[i * n + j]! / scales[i]! / scales[j]!;
  for (let p = 0; p < n; p++) {
    const pivot = rest[p * n + p]!;
    if (pivot < -ROUNDING) return false;
    for (let i = p + 1; i < n; i++) {
      const entry = rest[i * n + p]!;
      // beside a pivot of zero every entry has to be zero: |c_ij|² ≤ c_ii·c_jj
      if (pivot <= ROUNDING) {
        if (entry * entry > 4 * ROUNDING) return false;
        continue;
      }
      for (let j = p + 1; j < n; j++) rest[i * n + j]! -= (entry * rest[p * n + j]!) / pivot;
    }
  }
  return true;
}
