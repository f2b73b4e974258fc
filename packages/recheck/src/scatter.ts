import { commonCovariances, type RepeatSet } from "./common-covariance.ts";
import { unevenConditions } from "./homogeneity.ts";

/** Repeats of one condition, a row per reading, and the last digit's worth in each column. */
export interface Repeats {
  readonly rows: readonly (readonly number[])[];
  readonly digits: readonly number[];
  /** What the reader's own noise makes of the columns' covariance in one reading, where it is known. */
  readonly reader?: readonly (readonly number[])[];
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
 * (the background) or not all above zero. Where the reader's noise is known the pooled covariance of a condition departs
 * from the common one by as much as that noise, relative to its readings, departs from its mean over the conditions. A
 * condition that scatters otherwise than the others has its own, and stays out of the pool. Nothing repeated: zero, for
 * type A is unknown then and takes no part.
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
  const sets = conditions.map(({ rows, reader }, i): RepeatSet => {
    const inUnits = (matrix: readonly (readonly number[])[]) =>
      matrix.map((row, c) => row.map((cell, d) => cell / (units[i]![c]! * units[i]![d]!)));
    return {
      products: productsOf(rows, means[i]!, units[i]!),
      dof: rows.length - 1,
      ...(relative && reader && { reader: inUnits(reader) }),
    };
  });
  const usual = commonCovariances(sets, new Set(), tested);
  const scaled = (variance: number, i: number, c: number) => {
    const own = sets[i]!.reader && usual[i]![c]![c]!;
    return own && own > 0 ? variance / own : variance;
  };
  const uneven = unevenConditions(
    conditions.map(({ digits }, i) => ({
      dof: sets[i]!.dof,
      variances: sets[i]!.products.slice(0, tested).map((row, c) =>
        sets[i]!.dof > 0 ? scaled(row[c]! / sets[i]!.dof, i, c) : 0,
      ),
      least: digits
        .slice(0, tested)
        .map((digit, c) => scaled((digit * digit) / 12 / (units[i]![c]! * units[i]![c]!), i, c)),
    })),
  );
  const common = uneven.size === 0 ? usual : commonCovariances(sets, uneven, tested);
  const ofMeans = (one: readonly (readonly number[])[], i: number, divisor: number) =>
    one.map((row, c) => row.map((cell, d) => (cell * units[i]![c]! * units[i]![d]!) / divisor));
  const pooled = conditions.map(({ rows }, i) => ofMeans(common[i]!, i, rows.length));
  const covariances = conditions.map(({ rows }, i) =>
    uneven.has(i) ? ofMeans(sets[i]!.products, i, sets[i]!.dof * rows.length) : pooled[i]!,
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
