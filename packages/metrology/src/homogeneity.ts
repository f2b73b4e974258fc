/** Test of homogeneity: which conditions scatter more than the pooled rest. */
import { fUpper } from "./distributions.ts";
import type { ConditionScatter } from "./pooled-covariance.ts";
import { sidakFamily } from "./sidak.ts";

/** What the test says of one condition. */
export interface ConditionHomogeneity {
  /**
   * Family p: probability that any condition and column of a homogeneous family shows this variance ratio or a larger
   * one. Of the step at which the condition was set aside, or else of the last step. Null without repeats of its own, or
   * with nothing left to compare with.
   */
  readonly p: number | null;
  /** Index of the column with the largest excess; null with `p`. */
  readonly column: number | null;
  /** Variance of that column over the pooled variance of the others; null with `p`. */
  readonly varianceRatio: number | null;
  /** Whether p fell below the level. */
  readonly wild: boolean;
}

/** Outcome of the test. */
export interface Homogeneity {
  /** False where fewer than two conditions have repeats: nothing to compare, all p null. */
  readonly testable: boolean;
  readonly conditions: readonly ConditionHomogeneity[];
  /** Indices of the wild conditions, in the order in which they were set aside. */
  readonly wild: readonly number[];
}

/** Settings of the test. */
export interface HomogeneityOptions {
  /** Probability of a false alarm for the whole family; 0.01 unless given. */
  readonly level?: number;
  /**
   * Least variance (conditions × columns, on the covariances' scale) that the pooled rest is credited with when a
   * condition is judged, such as the square of the display's resolution over √12. Without it, conditions whose readings
   * happen to repeat to the last digit make the flicker of one digit elsewhere look infinitely wild.
   */
  readonly leastVariances?: readonly (readonly number[])[];
}

/**
 * Compares the variance of every condition and column with the pooled variance of all *other* conditions by an
 * upper-tail F test; the smallest p counts as found when its Šidák value over conditions × columns is below the level.
 *
 * The procedure is sequential: when the worst condition is found wild it is set aside, and the remaining ones are tested
 * again among themselves, until none is found or fewer than two remain. So one wild condition neither makes the pooled
 * rest so large that a second one hides, nor stays in the comparison of quiet ones. (Two equally wild conditions among
 * few can still hide each other: each stands in the other's rest.) The first step alone decides whether a homogeneous
 * family raises an alarm, so the later ones leave the false-alarm rate as it is. Correlated columns make it smaller.
 *
 * A zero variance is never evidence of excess. A variance above zero against a rest that is exactly zero has p = 0
 * unless `leastVariances` is given.
 *
 * @param scatters - conditions with their covariances on one scale, from `pooledCovariance`.
 * @throws RangeError for a level outside (0, 1) or least variances of another shape, negative or not finite.
 */
export function testHomogeneity(scatters: readonly ConditionScatter[], options: HomogeneityOptions = {}): Homogeneity {
  const level = options.level ?? 0.01;
  if (!(level > 0 && level < 1)) throw new RangeError(`The family level lies between 0 and 1, but ${level} was given.`);
  requireLeastVariances(scatters, options.leastVariances);

  const outcomes: ConditionHomogeneity[] = scatters.map(() => ({
    p: null,
    column: null,
    varianceRatio: null,
    wild: false,
  }));
  const wild: number[] = [];
  let remaining = scatters.map((_, index) => index).filter((index) => scatters[index]!.covariance !== null);
  const testable = remaining.length >= 2;
  while (remaining.length >= 2) {
    let worst = remaining[0]!;
    for (const index of remaining) {
      outcomes[index] = judge(scatters, remaining, index, options.leastVariances?.[index]);
      if (isWorse(outcomes[index], outcomes[worst]!)) worst = index;
    }
    if (outcomes[worst]!.p! >= level) break;
    outcomes[worst] = { ...outcomes[worst]!, wild: true };
    wild.push(worst);
    remaining = remaining.filter((index) => index !== worst);
  }
  return { testable, conditions: outcomes, wild };
}

/** Where tails underflow to the same p, the larger ratio is the worse one. */
function isWorse(candidate: ConditionHomogeneity, worst: ConditionHomogeneity): boolean {
  if (candidate.p !== worst.p) return candidate.p! < worst.p!;
  return candidate.varianceRatio! > worst.varianceRatio!;
}

function judge(
  scatters: readonly ConditionScatter[],
  remaining: readonly number[],
  index: number,
  leastVariance: readonly number[] | undefined,
): ConditionHomogeneity {
  const own = scatters[index]!;
  const columns = own.covariance!.length;
  let smallest = 2;
  let column = 0;
  let varianceRatio = 0;
  for (let c = 0; c < columns; c++) {
    let sum = 0;
    let dof = 0;
    for (const other of remaining) {
      if (other === index) continue;
      const scatter = scatters[other]!;
      sum += scatter.dof * scatter.covariance![c]![c]!;
      dof += scatter.dof;
    }
    const variance = own.covariance![c]![c]!;
    const rest = Math.max(sum / dof, leastVariance?.[c] ?? 0);
    const ratio = variance === 0 ? 0 : variance / rest;
    const p = fUpper(ratio, own.dof, dof);
    if (p < smallest) {
      smallest = p;
      column = c;
      varianceRatio = ratio;
    }
  }
  return { p: sidakFamily(smallest, remaining.length * columns), column, varianceRatio, wild: false };
}

function requireLeastVariances(
  scatters: readonly ConditionScatter[],
  leastVariances: readonly (readonly number[])[] | undefined,
): void {
  if (leastVariances === undefined) return;
  const fits =
    leastVariances.length === scatters.length &&
    leastVariances.every((row, index) => row.length === scatters[index]!.means.length);
  if (!fits) throw new RangeError("The least variances need one row per condition and one value per column.");
  if (leastVariances.some((row) => row.some((value) => !(value >= 0 && value < Infinity)))) {
    throw new RangeError("A least variance is finite and zero or above.");
  }
}
