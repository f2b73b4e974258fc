import { unevenConditions } from "./homogeneity.ts";

/** Repeats of one condition, a row per reading, and the last digit's worth in each column. */
export interface Repeats {
  readonly rows: readonly (readonly number[])[];
  readonly digits: readonly number[];
}

/** What the repeats of a series say of the errors of their means, condition by condition. */
export interface SeriesScatter {
  readonly means: readonly (readonly number[])[];
  /** Covariance of each condition's means. */
  readonly covariances: readonly (readonly (readonly number[])[])[];
  /** The pooled one throughout, for weights. */
  readonly pooled: readonly (readonly (readonly number[])[])[];
}

/**
 * The covariance of the means: that of one reading pooled over the conditions, `Σ(n − 1)C / Σ(n − 1)`, over the number of
 * readings. Relative covariances are pooled; absolute ones where the conditions' means are no measure of their scatter
 * (the background) or not all above zero. A condition that scatters otherwise than the others has its own, and stays out
 * of the pool. Nothing repeated: zero, for type A is unknown then and takes no part.
 *
 * @param tested how many of the first columns are compared for that.
 */
export function seriesScatter(
  conditions: readonly Repeats[],
  scale: "relative" | "absolute",
  tested: number,
): SeriesScatter {
  const means = conditions.map(({ rows }) => columnMeans(rows));
  const relative = scale === "relative" && means.every((own) => own.every((mean) => mean > 0));
  const units = means.map((own) => own.map((mean) => (relative ? mean : 1)));
  const products = conditions.map(({ rows }, i) => productsOf(rows, means[i]!, units[i]!));
  const dofs = conditions.map(({ rows }) => rows.length - 1);
  const uneven = unevenConditions(
    conditions.map(({ digits }, i) => ({
      dof: dofs[i]!,
      variances: products[i]!.slice(0, tested).map((row, c) => (dofs[i]! > 0 ? row[c]! / dofs[i]! : 0)),
      least: digits.slice(0, tested).map((digit, c) => (digit * digit) / 12 / (units[i]![c]! * units[i]![c]!)),
    })),
  );
  const dof = dofs.reduce((sum, own, i) => sum + (uneven.has(i) ? 0 : own), 0);
  const pool = means[0]!.map((_, c) =>
    means[0]!.map((__, d) =>
      dof === 0 ? 0 : products.reduce((sum, own, i) => sum + (uneven.has(i) ? 0 : own[c]![d]!), 0) / dof,
    ),
  );
  const ofMeans = (one: readonly (readonly number[])[], i: number, divisor: number) =>
    one.map((row, c) => row.map((cell, d) => (cell * units[i]![c]! * units[i]![d]!) / divisor));
  const pooled = conditions.map(({ rows }, i) => ofMeans(pool, i, rows.length));
  const covariances = conditions.map(({ rows }, i) =>
    uneven.has(i) ? ofMeans(products[i]!, i, dofs[i]! * rows.length) : pooled[i]!,
  );
  return { means, covariances, pooled };
}

/** The mean of each column. */
export function columnMeans(rows: readonly (readonly number[])[]): number[] {
  const first = rows[0] ?? [];
  return first.map((_, c) => rows.reduce((sum, row) => sum + row[c]!, 0) / rows.length);
}

/** Σ of products of the deviations from the means, in the columns' units. */
function productsOf(
  rows: readonly (readonly number[])[],
  means: readonly number[],
  units: readonly number[],
): number[][] {
  const deviations = rows.map((row) => row.map((value, c) => (value - means[c]!) / units[c]!));
  return means.map((_, c) => means.map((__, d) => deviations.reduce((sum, row) => sum + row[c]! * row[d]!, 0)));
}
