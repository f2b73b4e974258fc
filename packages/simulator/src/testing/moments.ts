/** The first moments of a sample. */
export interface Moments {
  readonly count: number;
  readonly mean: number;
  readonly sd: number;
  /** Fourth central moment over the squared variance: 3 for a normal. */
  readonly kurtosis: number;
}

/** Mean, standard deviation and kurtosis of numbers. */
export function moments(values: readonly number[]): Moments {
  const count = values.length;
  const mean = values.reduce((total, value) => total + value, 0) / count;
  const central = (power: number) =>
    values.reduce((total, value) => total + (value - mean) ** power, 0) / (power === 2 ? count - 1 : count);
  return { count, mean, sd: Math.sqrt(central(2)), kurtosis: central(4) / central(2) ** 2 };
}

/** Correlation of two samples of one length. */
export function correlation(a: readonly number[], b: readonly number[]): number {
  const [ma, mb] = [moments(a), moments(b)];
  const product = a.reduce((total, value, i) => total + (value - ma.mean) * (b[i]! - mb.mean), 0);
  return product / (a.length - 1) / (ma.sd * mb.sd);
}

/** How far a standard deviation of so many normal numbers may lie off, relative, at four of its own. */
export function spreadTolerance(count: number): number {
  return 4 / Math.sqrt(2 * count);
}
