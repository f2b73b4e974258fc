/** Covariance of repeated readings, pooled over conditions (JCGM 100:2008, 4.2.4; the pooled variance of H.3.6 in matrix form). */

/** Repeats of one condition: rows are readings, columns are channels or other quantities read together. */
export type RepeatedReadings = readonly (readonly number[])[];

/** Whether a covariance is of the readings or of the readings divided by their condition's means. */
export type CovarianceScale = "relative" | "absolute";

/** What one condition's repeats say. */
export interface ConditionScatter {
  /** Number of readings. */
  readonly count: number;
  /** Mean of each column, in the readings' unit. */
  readonly means: readonly number[];
  /** Covariance of one reading (columns × columns), relative or absolute; null for a single reading. */
  readonly covariance: readonly (readonly number[])[] | null;
  /** Degrees of freedom n − 1. */
  readonly dof: number;
}

/** Covariance of one reading, pooled over conditions. */
export interface PooledCovariance {
  readonly scale: CovarianceScale;
  readonly conditions: readonly ConditionScatter[];
  /** Σ(n_i − 1)·C_i / Σ(n_i − 1), columns × columns; null where no condition has repeats. */
  readonly covariance: readonly (readonly number[])[] | null;
  /** Σ(n_i − 1); null where no condition has repeats: the scatter is unknown, which is not the same as none. */
  readonly dof: number | null;
}

/**
 * Means and covariances of repeated readings, and the covariance pooled over all conditions with repeats.
 *
 * Columns read together keep their correlation: channels share the beam's fluctuation. A condition with one reading has
 * a mean but adds nothing to the pooled covariance. The covariance of a condition's mean is the pooled covariance
 * (times the means, where relative) over its count.
 *
 * @param conditions - conditions × readings × columns, at least one of each.
 * @param scale - "relative" (the default) divides each covariance by the condition's own means.
 * @throws RangeError naming the place of a missing, ragged or non-finite reading, or of a zero mean where relative.
 */
export function pooledCovariance(
  conditions: readonly RepeatedReadings[],
  scale: CovarianceScale = "relative",
): PooledCovariance {
  const columns = conditions[0]?.[0]?.length ?? 0;
  if (columns === 0) {
    throw new RangeError(
      "The pooled covariance needs at least one condition with at least one reading and one column.",
    );
  }
  const scatters = conditions.map((rows, index) => conditionScatter(rows, index, columns, scale));
  return { scale, conditions: scatters, ...poolScatters(scatters) };
}

/**
 * Pools scatters that are already known, e.g. without a condition that failed the test of homogeneity.
 *
 * @throws RangeError for no scatters, or unequal numbers of columns.
 */
export function poolScatters(scatters: readonly ConditionScatter[]): Pick<PooledCovariance, "covariance" | "dof"> {
  const columns = scatters[0]?.means.length;
  if (columns === undefined) throw new RangeError("Pooling needs at least one condition.");
  const sum = zeroMatrix(columns);
  let dof = 0;
  scatters.forEach((scatter, index) => {
    if (scatter.means.length !== columns) {
      throw new RangeError(
        `Condition ${index + 1} has ${scatter.means.length} columns where the first has ${columns}: pool like with like.`,
      );
    }
    if (scatter.covariance === null) return;
    dof += scatter.dof;
    for (let j = 0; j < columns; j++) {
      for (let k = 0; k < columns; k++) sum[j]![k]! += scatter.dof * scatter.covariance[j]![k]!;
    }
  });
  if (dof === 0) return { covariance: null, dof: null };
  return { covariance: sum.map((row) => row.map((entry) => entry / dof)), dof };
}

function conditionScatter(
  rows: RepeatedReadings,
  index: number,
  columns: number,
  scale: CovarianceScale,
): ConditionScatter {
  requireReadings(rows, index, columns);
  const count = rows.length;
  const means = Array.from({ length: columns }, (_, column) => meanOf(rows, column));
  if (count === 1) return { count, means, covariance: null, dof: 0 };
  if (scale === "relative") {
    const zero = means.indexOf(0);
    if (zero >= 0) {
      throw new RangeError(
        `Condition ${index + 1}, column ${zero + 1}: the mean is zero, so a relative covariance is undefined. Use the absolute one.`,
      );
    }
  }
  const covariance = zeroMatrix(columns);
  for (let j = 0; j < columns; j++) {
    for (let k = 0; k <= j; k++) {
      let sum = 0;
      for (const row of rows) sum += (row[j]! - means[j]!) * (row[k]! - means[k]!);
      const divisor = scale === "relative" ? means[j]! * means[k]! : 1;
      covariance[j]![k] = sum / (count - 1) / divisor;
      covariance[k]![j] = covariance[j]![k]!;
    }
  }
  return { count, means, covariance, dof: count - 1 };
}

/** Mean about the first reading: repeats without scatter have exactly their own value as mean, and no variance. */
function meanOf(rows: RepeatedReadings, column: number): number {
  const first = rows[0]![column]!;
  let sum = 0;
  for (const row of rows) sum += row[column]! - first;
  return first + sum / rows.length;
}

function zeroMatrix(size: number): number[][] {
  return Array.from({ length: size }, () => new Array<number>(size).fill(0));
}

function requireReadings(rows: RepeatedReadings, index: number, columns: number): void {
  const place = `Condition ${index + 1}`;
  if (rows.length === 0) throw new RangeError(`${place} has no readings: leave it out or enter some.`);
  rows.forEach((row, reading) => {
    if (row.length !== columns) {
      throw new RangeError(
        `${place}, reading ${reading + 1} has ${row.length} columns where the first reading has ${columns}.`,
      );
    }
    const bad = row.findIndex((value) => !Number.isFinite(value));
    if (bad >= 0) {
      throw new RangeError(`${place}, reading ${reading + 1}, column ${bad + 1} is ${row[bad]}, not a finite number.`);
    }
  });
}
