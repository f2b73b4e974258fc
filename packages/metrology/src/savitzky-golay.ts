/** Savitzky–Golay filters: the convolution weights of a moving least-squares polynomial. */

/** Which filter. */
export interface SavitzkyGolayShape {
  /** Number of points in the window, odd. */
  readonly points: number;
  /** Order of the polynomial, below the number of points. */
  readonly order: number;
  /** Derivative, per sample interval to that power; 0 (smoothing) unless given. */
  readonly derivative?: number;
  /** Where in the window the polynomial is evaluated, in samples from its middle; 0 unless given. For the ends of a series. */
  readonly position?: number;
}

/** Weights of a filter. */
export interface SavitzkyGolayFilter {
  /** One weight per point from the first to the last: the output is Σ weight·sample. */
  readonly weights: readonly number[];
  /** Standard deviation of the output over that of independent samples, √Σ weight². */
  readonly noiseGain: number;
}

/**
 * Weights of a Savitzky–Golay filter at unit sample interval; for an interval h divide a derivative's result by
 * h^derivative.
 *
 * Computed as a sum over Gram polynomials (P. A. Gorry, Anal. Chem. 62, 570 (1990)) after A. Savitzky and
 * M. J. E. Golay, Anal. Chem. 36, 1627 (1964).
 *
 * @throws RangeError for an even or non-integer number of points, an order that the points cannot determine, or a
 * position outside the window.
 */
export function savitzkyGolay(shape: SavitzkyGolayShape): SavitzkyGolayFilter {
  const { points, order, derivative = 0, position = 0 } = shape;
  requireShape(points, order, derivative, position);
  const half = (points - 1) / 2;
  const atPosition = gramPolynomials(position, half, order, derivative);
  const weights: number[] = [];
  let sumOfSquares = 0;
  for (let i = -half; i <= half; i++) {
    const atSample = gramPolynomials(i, half, order, 0);
    let weight = 0;
    for (let k = 0; k <= order; k++) weight += inverseNorm(half, k) * atSample[0]![k]! * atPosition[derivative]![k]!;
    weights.push(weight);
    sumOfSquares += weight * weight;
  }
  return { weights, noiseGain: Math.sqrt(sumOfSquares) };
}

/**
 * Gram polynomials P_k on the points −m…m and their derivatives at t, as [derivative][k], by the recursion
 * P_k = 2(2k − 1)/(k(2m − k + 1))·(t·P_{k−1} + s·P_{k−1}^{(s−1)}) − (k − 1)(2m + k)/(k(2m − k + 1))·P_{k−2}.
 */
function gramPolynomials(t: number, half: number, order: number, derivative: number): number[][] {
  const table: number[][] = [];
  for (let s = 0; s <= derivative; s++) {
    const row: number[] = [s === 0 ? 1 : 0];
    for (let k = 1; k <= order; k++) {
      const divisor = k * (2 * half - k + 1);
      const lower = s === 0 ? 0 : s * table[s - 1]![k - 1]!;
      const previous = k === 1 ? 0 : row[k - 2]!;
      row.push(((4 * k - 2) / divisor) * (t * row[k - 1]! + lower) - (((k - 1) * (2 * half + k)) / divisor) * previous);
    }
    table.push(row);
  }
  return table;
}

/** 1/Σ P_k² over the window: (2k + 1)·(2m)(2m − 1)…(2m − k + 1)/((2m + k + 1)…(2m + 1)). */
function inverseNorm(half: number, k: number): number {
  let value = (2 * k + 1) / (2 * half + k + 1);
  for (let j = 0; j < k; j++) value *= (2 * half - j) / (2 * half + k - j);
  return value;
}

function requireShape(points: number, order: number, derivative: number, position: number): void {
  if (!(Number.isInteger(points) && points >= 1 && points % 2 === 1)) {
    throw new RangeError(`A Savitzky–Golay window has an odd number of points, but ${points} was given.`);
  }
  if (!(Number.isInteger(order) && order >= 0 && order < points)) {
    throw new RangeError(
      `A polynomial over ${points} points has an order from 0 to ${points - 1}, but ${order} was given.`,
    );
  }
  if (!(Number.isInteger(derivative) && derivative >= 0 && derivative <= order)) {
    throw new RangeError(
      `A polynomial of order ${order} has derivatives 0 to ${order}, but ${derivative} was asked for.`,
    );
  }
  if (!(Math.abs(position) <= (points - 1) / 2)) {
    throw new RangeError(`The position ${position} lies outside the window of ${points} points.`);
  }
}
