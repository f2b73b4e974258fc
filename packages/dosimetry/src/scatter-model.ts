import { type ConditionScatter, poolScatters, positivePart } from "@alcedo-dosimetry/metrology";

/** What a reading scatters by that does not grow with it, known from elsewhere: a reader's noise with the beam off. */
export interface ConstantScatter {
  /** Covariance of one reading by condition, columns × columns, on the scale of the scatters. */
  readonly covariances: readonly Float64Array[];
  /** Degrees of freedom of that estimate. */
  readonly dof: number;
}

/** Covariance of one reading of each condition, and what it is worth. */
export interface ScatterModel {
  /** Columns × columns, on the scale of the scatters; undefined where no condition has repeats. */
  readonly covariances: readonly Float64Array[] | undefined;
  readonly dof: number | undefined;
}

/** How far a constant part may exceed all that the repeats show and still be put down to chance. */
const CHANCE = 1.5;

/** Part of the constant scatter that a condition has in any case, however little the pooled scatter leaves for it. */
const FLOOR = 0.5;

/** How often the weights are found anew from what they gave: the third time changes little. */
const ROUNDS = 3;

/**
 * Shares a pooled covariance out among conditions whose readings differ in size: `V_i = P + λ∘(A_i − Ā)`. P is the pooled
 * covariance, A_i the constant scatter on the scale of condition i and Ā its mean over the conditions, so that the mean
 * over the conditions stays P. Both means weigh a condition by ν_i/v_i², v_i its variance beside the others', as its own
 * estimate is uncertain in proportion to v_i. λ ≤ 1 keeps Ā from exceeding what the repeats show, channel by channel, by
 * more than chance; and no combination of columns has less than half of λ∘A_i: eigenvalues below are raised.
 *
 * Without constant scatter V_i = P, pooled by degrees of freedom alone.
 *
 * The degrees of freedom of a condition are the least over columns of `V²/(P²/ν_w + (λ(A_i − Ā))²/ν_A)` (Satterthwaite),
 * with ν_w = (Σ ν_i w_i)²/Σ ν_i w_i², and at most ν_w; those of all together their harmonic mean.
 *
 * @param counted which conditions are pooled.
 * @param judged how many of the first columns decide on weights, λ and degrees of freedom.
 */
export function scatterModel(
  scatters: readonly ConditionScatter[],
  counted: (condition: number) => boolean,
  constant: ConstantScatter | undefined,
  judged: number,
): ScatterModel {
  const chosen = scatters.map((_, i) => i).filter((i) => counted(i));
  const plain = poolScatters(chosen.map((i) => scatters[i]!));
  if (plain.covariance === null) return { covariances: undefined, dof: undefined };
  const m = scatters[0]!.means.length;
  const pooled = new Float64Array(plain.covariance.flat());
  if (!constant) return { covariances: scatters.map(() => pooled), dof: plain.dof! };
  const repeated = chosen.filter((i) => scatters[i]!.covariance !== null);
  const byDof = repeated.map((i) => scatters[i]!.dof);
  const split = new Split(scatters, constant, repeated, m, judged);
  let weights: readonly number[] = byDof;
  split.weigh(weights, true);
  for (let round = 1; round <= ROUNDS; round++) {
    weights = repeated.map((i, k) => {
      const ratio = split.relativeVariance(i);
      return byDof[k]! / (ratio * ratio);
    });
    split.weigh(weights, round < ROUNDS);
  }
  const squares = weights.reduce((sum, weight, k) => sum + (weight * weight) / byDof[k]!, 0);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const dofPooled = (total * total) / squares;
  return {
    covariances: scatters.map((_, i) => split.covariance(i)),
    dof: scatters.length / scatters.reduce((sum, _, i) => sum + 1 / Math.min(dofPooled, split.dof(i, dofPooled)), 0),
  };
}

/** Weighted means of the scatter and of its constant part, and how much of the latter the former bears. */
class Split {
  readonly #constant: ConstantScatter;
  readonly #m: number;
  readonly #judged: number;
  readonly #scatters: readonly ConditionScatter[];
  readonly #repeated: readonly number[];
  readonly #pooled: Float64Array;
  readonly #mean: Float64Array;
  /** √λ by column. */
  readonly #share: Float64Array;

  constructor(
    scatters: readonly ConditionScatter[],
    constant: ConstantScatter,
    repeated: readonly number[],
    m: number,
    judged: number,
  ) {
    this.#scatters = scatters;
    this.#constant = constant;
    this.#repeated = repeated;
    this.#m = m;
    this.#judged = judged;
    this.#pooled = new Float64Array(m * m);
    this.#mean = new Float64Array(m * m);
    this.#share = new Float64Array(m);
  }

  /** Takes the means anew: of all entries, or of the variances that are judged alone, which is what weights need. */
  weigh(weights: readonly number[], judgedAlone: boolean): void {
    const m = this.#m;
    let total = 0;
    for (const weight of weights) total += weight;
    const columns = judgedAlone ? this.#judged : m;
    for (let c = 0; c < columns; c++)
      for (let d = judgedAlone ? c : 0; d < (judgedAlone ? c + 1 : m); d++) {
        let [pooled, mean] = [0, 0];
        for (let at = 0; at < weights.length; at++) {
          const i = this.#repeated[at]!;
          pooled += weights[at]! * this.#scatters[i]!.covariance![c]![d]!;
          mean += weights[at]! * this.#constant.covariances[i]![c * m + d]!;
        }
        this.#pooled[c * m + d] = pooled / total;
        this.#mean[c * m + d] = mean / total;
      }
    for (let c = 0; c < m; c++) {
      const at = (c % this.#judged) * (m + 1);
      const [shown, claimed] = [CHANCE * this.#pooled[at]!, this.#mean[at]!];
      this.#share[c] = claimed > shown ? Math.sqrt(shown / claimed) : 1;
    }
  }

  /** P + λ∘(A_i − Ā), and at least FLOOR·λ∘A_i in every direction. */
  covariance(i: number): Float64Array {
    const m = this.#m;
    const least = new Float64Array(m * m);
    const above = new Float64Array(m * m);
    for (let k = 0; k < m * m; k++) {
      least[k] = FLOOR * this.#lambda(k) * this.#constant.covariances[i]![k]!;
      above[k] = this.#pooled[k]! + this.#excess(i, k) - least[k]!;
    }
    const part = positivePart(above, m);
    for (let k = 0; k < m * m; k++) part[k]! += least[k]!;
    return part;
  }

  /** Its variance in a column, as far as that column alone goes. */
  #variance(i: number, at: number): number {
    const least = FLOOR * this.#lambda(at) * this.#constant.covariances[i]![at]!;
    return Math.max(least, this.#pooled[at]! + this.#excess(i, at));
  }

  /** Mean over the judged columns of the variance of a condition over the pooled one. */
  relativeVariance(i: number): number {
    let sum = 0;
    for (let c = 0; c < this.#judged; c++) {
      const at = c * (this.#m + 1);
      const pooled = this.#pooled[at]!;
      sum += pooled > 0 ? this.#variance(i, at) / pooled : 1;
    }
    return sum / this.#judged;
  }

  dof(i: number, dofPooled: number): number {
    let least = Number.POSITIVE_INFINITY;
    for (let c = 0; c < this.#judged; c++) {
      const at = c * (this.#m + 1);
      const [pooled, excess] = [this.#pooled[at]!, this.#excess(i, at)];
      const variance = this.#variance(i, at);
      if (!(variance > 0)) continue;
      const uncertain = (pooled * pooled) / dofPooled + (excess * excess) / this.#constant.dof;
      least = Math.min(least, (variance * variance) / uncertain);
    }
    return least;
  }

  #lambda(k: number): number {
    return this.#share[Math.floor(k / this.#m)]! * this.#share[k % this.#m]!;
  }

  #excess(i: number, k: number): number {
    return this.#lambda(k) * (this.#constant.covariances[i]![k]! - this.#mean[k]!);
  }
}
