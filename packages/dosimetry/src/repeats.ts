import {
  type ConditionScatter,
  type Model,
  type PooledCovariance,
  pooledCovariance,
  type Scalar,
  testHomogeneity,
} from "@alcedo-dosimetry/metrology";
import { type ConstantScatter, type ScatterModel, scatterModel } from "./scatter-model.ts";

/** Readings of one condition: what type A is estimated from. */
export interface RepeatedCondition {
  readonly name: string;
  /** Means of the columns, as nodes. */
  readonly means: readonly Scalar[];
  /** Names and symbols of the columns. */
  readonly columns: readonly { readonly name: string; readonly symbol: string; readonly label: string }[];
  /** Readings that count × columns. */
  readonly readings: readonly (readonly number[])[];
  /** Variance of one reading that the display's last digit stands for, by column, in the columns' units. */
  readonly displayVariance: readonly number[];
  /** Covariance that one reading has whatever its size (the reader's noise), columns × columns, in the columns' units. */
  readonly constant?: Float64Array;
}

/** A condition that scatters more than the others, with the test's p. */
export interface WildCondition {
  readonly condition: string;
  readonly p: number;
}

/** Type A of a whole series. */
export interface Repeats {
  /** Of the pooled estimate: Σ(n_i − 1), less where it leans on the reader's noise; undefined without any repeats. */
  readonly dof: number | undefined;
  readonly wild: readonly WildCondition[];
  /** Pooled covariance of one reading, columns × columns: absolute where that was asked for, else relative; see `dof`. */
  readonly pooled: Float64Array | undefined;
  /** Means with their type A: zero-valued inputs added, condition by condition. */
  readonly means: readonly (readonly Scalar[])[];
  /** Pooled covariance of each condition's means, columns × columns: the one for weights. */
  readonly weightCovariance: readonly Float64Array[];
}

/**
 * Gives the means of a series their type A uncertainty: the covariance of a reading pooled over the conditions, as each
 * shares the beam's fluctuation among channels, over the number of readings.
 *
 * Relative covariances are pooled, C_rel ∘ q̄q̄ᵀ/n; where a mean is not positive, and for rates of background,
 * absolute ones. What a reader's noise with the beam off makes of relative scatter is shared out in absolute terms (see
 * {@link scatterModel}). A condition that fails the test of homogeneity (family p < 0.01) keeps its own covariance for its
 * uncertainty, and the pooled one for its weight. Without any repeats the variance is marked as unknown.
 *
 * @param tested how many of the first columns the test of homogeneity looks at.
 * @param constantDof degrees of freedom of the conditions' `constant`.
 */
export function addRepeats(
  model: Model,
  series: string,
  conditions: readonly RepeatedCondition[],
  scale: "relative" | "absolute",
  tested = conditions[0]?.means.length ?? 0,
  constantDof?: number,
): Repeats {
  const relative = scale === "relative" && conditions.every(({ means }) => means.every(({ value }) => value > 0));
  const all = conditions.map(({ readings }) => readings);
  const { conditions: scatters }: PooledCovariance = pooledCovariance(all, relative ? "relative" : "absolute");
  const constant = relative && constantDof !== undefined ? relativeConstant(conditions, constantDof) : undefined;
  const typical = scatterModel(scatters, () => true, constant, tested);
  const wild = wildConditions(conditions, scatters, relative, tested, constant ? typical : undefined);
  const pooled = wild.size === 0 ? typical : scatterModel(scatters, (i) => !wild.has(i), constant, tested);
  const inUnits = (covariance: Float64Array | undefined, i: number): Float64Array => {
    const { means, readings } = conditions[i]!;
    const m = means.length;
    const own = new Float64Array(m * m);
    if (covariance)
      for (let c = 0; c < m; c++)
        for (let d = 0; d < m; d++) {
          const scaling = relative ? means[c]!.value * means[d]!.value : 1;
          own[c * m + d] = (covariance[c * m + d]! * scaling) / readings.length;
        }
    return own;
  };
  const means = conditions.map((condition, i) => {
    const own = wild.has(i);
    const unknown = pooled.covariances === undefined;
    const covariance = own ? Float64Array.from(scatters[i]!.covariance!.flat()) : pooled.covariances?.[i];
    const deviations = model.estimates({
      key: `${series}/${condition.name}/repeats`,
      type: "A",
      covariance: symmetric(inUnits(covariance, i), condition.means.length),
      dof: own ? scatters[i]!.dof : (pooled.dof ?? Number.POSITIVE_INFINITY),
      group: own ? `${series}/${condition.name}/repeats` : `${series}/repeats`,
      unknown,
      elements: condition.columns.map(({ name, symbol, label }, c) => ({
        name,
        symbol: `δ${symbol}`,
        label: `scatter of ${label}`,
        unit: condition.means[c]!.unit,
        value: 0,
      })),
    });
    return condition.means.map((mean, c) => mean.plus(deviations[c]!));
  });
  return {
    dof: pooled.dof,
    wild: [...wild].map(([i, p]) => ({ condition: conditions[i]!.name, p })),
    means,
    weightCovariance: conditions.map((_, i) => inUnits(pooled.covariances?.[i], i)),
    pooled: constant ? undefined : pooled.covariances?.[0],
  };
}

/** The constant part of each condition over its means. */
function relativeConstant(conditions: readonly RepeatedCondition[], dof: number): ConstantScatter | undefined {
  const covariances = conditions.flatMap(({ constant, means }) => {
    const m = means.length;
    return constant
      ? [constant.map((value, k) => value / (means[Math.floor(k / m)]!.value * means[k % m]!.value))]
      : [];
  });
  return covariances.length === conditions.length ? { covariances, dof } : undefined;
}

/**
 * Conditions that fail the test, by number, with their p.
 * @param typical what each scatters by if it is like the others; variances are compared over these.
 */
function wildConditions(
  conditions: readonly RepeatedCondition[],
  scatters: readonly ConditionScatter[],
  relative: boolean,
  tested: number,
  typical: ScatterModel | undefined,
): Map<number, number> {
  const columns = scatters[0]?.means.length ?? 0;
  const ofTypical = (variance: number, i: number, c: number) => {
    const own = typical?.covariances?.[i]?.[c * (columns + 1)];
    return own !== undefined && own > 0 ? variance / own : variance;
  };
  const cut = scatters.map((scatter, i) => ({
    ...scatter,
    means: scatter.means.slice(0, tested),
    covariance:
      scatter.covariance
        ?.slice(0, tested)
        .map((row, c) => row.slice(0, tested).map((value, d) => (c === d ? ofTypical(value, i, c) : value))) ?? null,
  }));
  const leastVariances = conditions.map(({ displayVariance, means }, i) =>
    displayVariance
      .slice(0, tested)
      .map((variance, c) => ofTypical(relative ? variance / (means[c]!.value * means[c]!.value) : variance, i, c)),
  );
  const { conditions: outcomes, wild } = testHomogeneity(cut, { leastVariances });
  return new Map(wild.map((i) => [i, outcomes[i]!.p!]));
}

/** Scaling rounds the two halves alike only by luck. */
function symmetric(covariance: Float64Array, m: number): Float64Array {
  for (let c = 0; c < m; c++) for (let d = 0; d < c; d++) covariance[c * m + d] = covariance[d * m + c]!;
  return covariance;
}
