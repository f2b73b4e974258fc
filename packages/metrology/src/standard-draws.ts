import type { Distribution } from "./model.ts";
import type { RandomStream } from "./random-stream.ts";
import { sin } from "./special.ts";
import { standardNormal } from "./symmetric-draws.ts";

/** Draws of mean 0 and standard deviation 1, times a scale, plus an offset. */
export interface StandardDraws {
  /**
   * Fills the first draws.
   * @param words room for 2·count words.
   */
  fill(
    draws: Float64Array,
    count: number,
    stream: RandomStream,
    words: Int32Array,
    scale: number,
    offset: number,
  ): void;
}

const TWO_TO_31 = 2147483648;
const HALF_PI = 1.5707963267948966;
const ROOT_3 = 1.7320508075688772;
const ROOT_6 = 2.449489742783178;

/** √3·(2U − 1): half width √3. */
const rectangular: StandardDraws = {
  fill(draws, count, stream, words, scale, offset) {
    stream.fill(words, count);
    const step = (scale * ROOT_3) / TWO_TO_31;
    let i = 0;
    for (; i + 3 < count; i += 4) {
      draws[i] = (words[i]! + 0.5) * step + offset;
      draws[i + 1] = (words[i + 1]! + 0.5) * step + offset;
      draws[i + 2] = (words[i + 2]! + 0.5) * step + offset;
      draws[i + 3] = (words[i + 3]! + 0.5) * step + offset;
    }
    for (; i < count; i++) draws[i] = (words[i]! + 0.5) * step + offset;
  },
};

/** √6·(U₁ + U₂ − 1): half width √6. */
const triangular: StandardDraws = {
  fill(draws, count, stream, words, scale, offset) {
    stream.fill(words, 2 * count);
    const step = (scale * ROOT_6) / (2 * TWO_TO_31);
    for (let i = 0; i < count; i++) draws[i] = (words[i]! + 0.5 + (words[count + i]! + 0.5)) * step + offset;
  },
};

/** √2·sin(π(U − ½)), the arcsine distribution: half width √2. */
const uShaped: StandardDraws = {
  fill(draws, count, stream, words, scale, offset) {
    stream.fill(words, count);
    const step = HALF_PI / TWO_TO_31;
    const width = scale * Math.SQRT2;
    for (let i = 0; i < count; i++) draws[i] = sin((words[i]! + 0.5) * step) * width + offset;
  },
};

/** The standard form of a distribution (JCGM 101:2008, 6.4). */
export function standardDraws(distribution: Distribution): StandardDraws {
  switch (distribution) {
    case "normal":
      return standardNormal();
    case "rectangular":
      return rectangular;
    case "triangular":
      return triangular;
    case "u-shaped":
      return uShaped;
  }
}
