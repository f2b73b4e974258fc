import type { RandomStream } from "./random-stream.ts";
import { ln, pow } from "./special.ts";
import { standardNormal } from "./symmetric-draws.ts";

const TWO_TO_32 = 4294967296;

/**
 * Draws of √(ν/χ²_ν): what a normal draw, or several at once, is multiplied by to follow t (or the multivariate t) with
 * ν degrees of freedom.
 *
 * χ²_ν = 2·Γ(ν/2) by the method of G. Marsaglia and W. W. Tsang (ACM Trans. Math. Softw. 26(3), 363 (2000)): d·v with
 * v = (1 + c·z)³, z normal, accepted by a uniform number; a shape below one by Γ(a) = Γ(a + 1)·U^(1/a).
 */
export class TScale {
  readonly #d: number;
  readonly #c: number;
  /** √(ν/2d). */
  readonly #factor: number;
  /** −1/ν where the shape ν/2 is below one. */
  readonly #boost: number | undefined;

  /** @param dof above zero, finite, real-valued. */
  constructor(dof: number) {
    const shape = 0.5 * dof;
    this.#boost = shape < 1 ? -1 / dof : undefined;
    this.#d = (shape < 1 ? shape + 1 : shape) - 1 / 3;
    this.#c = 1 / Math.sqrt(9 * this.#d);
    this.#factor = Math.sqrt(dof / (2 * this.#d));
  }

  /**
   * Fills the first draws.
   * @param words room for 2·count words.
   */
  fill(draws: Float64Array, count: number, stream: RandomStream, words: Int32Array): void {
    const c = this.#c;
    const factor = this.#factor;
    standardNormal().fill(draws, count, stream, words, 1, 0);
    stream.fill(words, count);
    // which draws are undecided stands behind the words, as in the ziggurat
    let end = count;
    for (let i = 0; i < count; i++) {
      const z = draws[i]!;
      const root = 1 + c * z;
      const z2 = z * z;
      const uniform = (words[i]! + 2147483648.5) / TWO_TO_32;
      if (root > 0 && uniform < 1 - 0.0331 * z2 * z2) draws[i] = factor / (root * Math.sqrt(root));
      else words[end++] = i;
    }
    for (let k = count; k < end; k++) {
      const i = words[k]!;
      const root = this.#decide(draws[i]!, (words[i]! + 2147483648.5) / TWO_TO_32, stream);
      draws[i] = factor / (root * Math.sqrt(root));
    }
    if (this.#boost !== undefined) for (let i = 0; i < count; i++) draws[i]! *= pow(stream.nextFraction(), this.#boost);
  }

  /** 1 + c·z of the first draw that is accepted. */
  #decide(first: number, fraction: number, stream: RandomStream): number {
    let [z, uniform] = [first, fraction];
    for (;;) {
      const root = 1 + this.#c * z;
      const v = root * root * root;
      if (root > 0 && ln(uniform) < 0.5 * z * z + this.#d * (1 - v + ln(v))) return root;
      z = standardNormal().draw(stream);
      uniform = stream.nextFraction();
    }
  }
}
