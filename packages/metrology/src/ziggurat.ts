import type { RandomStream } from "./random-stream.ts";

/** Layers: as many as eight bits tell apart. */
const LAYERS = 256;

/** Words hold 31 bits and a sign. */
const TWO_TO_31 = 2147483648;

/** A density on the whole line that is even and falls on either side of zero, f(0) = 1. */
export interface EvenDensity {
  /** f(x), x ≥ 0; it need not be normalised. */
  density(x: number): number;
  /** The x ≥ 0 where f(x) = y, 0 < y ≤ 1. */
  inverse(y: number): number;
  /** ∫ₓ^∞ f. */
  tailArea(x: number): number;
  /** The magnitude of a draw beyond x. @param fraction a random number strictly between 0 and 1. */
  drawTail(x: number, fraction: number): number;
}

/**
 * The ziggurat method (G. Marsaglia and W. W. Tsang, J. Stat. Softw. 5(8), 1 (2000)): the area under the density is
 * covered by layers of one size, and nearly every draw is one product and one comparison.
 *
 * A word is the place within a layer, with 31 bits and a sign, and its last eight bits choose the layer: what they add
 * to the place is beyond its 24th bit.
 */
export class Ziggurat {
  readonly #density: EvenDensity;
  /** Right edge of each layer, from the base up; the base's is where it would end without the tail. */
  readonly #edges: Float64Array;
  /** f at those edges; one past the last layer. */
  readonly #heights: Float64Array;
  /** Edge of each layer per unit of a word. */
  readonly #steps: Float64Array;
  /** Words below this lie under the density for certain. */
  readonly #certain: Int32Array;

  constructor(density: EvenDensity) {
    this.#density = density;
    this.#edges = layers(density);
    this.#heights = this.#edges.map((edge) => density.density(edge));
    this.#steps = this.#edges.map((edge) => edge / TWO_TO_31);
    this.#certain = new Int32Array(LAYERS);
    for (let i = 0; i < LAYERS; i++)
      this.#certain[i] = Math.floor((this.#edges[i + 1]! / this.#edges[i]!) * (TWO_TO_31 - 1));
  }

  /**
   * Fills the first draws, each times scale and plus offset.
   * @param words room for 2·count words.
   */
  fill(
    draws: Float64Array,
    count: number,
    stream: RandomStream,
    words: Int32Array,
    scale: number,
    offset: number,
  ): void {
    const steps = this.#steps;
    const certain = this.#certain;
    stream.fill(words, count);
    // which draws are undecided stands behind the words: a call amid the loop would slow all of them down
    let end = count;
    let i = 0;
    let word: number;
    let layer: number;
    // word ^ (word >> 31) is the magnitude of word + ½, rounded down; four draws make a turn, which costs its own time
    for (; i + 3 < count; i += 4) {
      word = words[i]!;
      layer = word & 255;
      draws[i] = (word + 0.5) * steps[layer]! * scale + offset;
      if ((word ^ (word >> 31)) >= certain[layer]!) words[end++] = i;
      word = words[i + 1]!;
      layer = word & 255;
      draws[i + 1] = (word + 0.5) * steps[layer]! * scale + offset;
      if ((word ^ (word >> 31)) >= certain[layer]!) words[end++] = i + 1;
      word = words[i + 2]!;
      layer = word & 255;
      draws[i + 2] = (word + 0.5) * steps[layer]! * scale + offset;
      if ((word ^ (word >> 31)) >= certain[layer]!) words[end++] = i + 2;
      word = words[i + 3]!;
      layer = word & 255;
      draws[i + 3] = (word + 0.5) * steps[layer]! * scale + offset;
      if ((word ^ (word >> 31)) >= certain[layer]!) words[end++] = i + 3;
    }
    for (; i < count; i++) {
      word = words[i]!;
      layer = word & 255;
      draws[i] = (word + 0.5) * steps[layer]! * scale + offset;
      if ((word ^ (word >> 31)) >= certain[layer]!) words[end++] = i;
    }
    for (let k = count; k < end; k++) {
      const place = words[k]!;
      draws[place] = this.#decide(words[place]!, stream) * scale + offset;
    }
  }

  /** One draw. */
  draw(stream: RandomStream): number {
    return this.#decide(stream.next(), stream);
  }

  /** The draw of a word that may not lie under the density. */
  #decide(first: number, stream: RandomStream): number {
    for (let word = first; ; word = stream.next()) {
      const layer = word & 255;
      const draw = (word + 0.5) * this.#steps[layer]!;
      const magnitude = Math.abs(draw);
      if (magnitude < this.#edges[layer + 1]!) return draw;
      if (layer === 0) {
        // the base is a rectangle up to its true edge, and the tail beyond
        const beyond = this.#density.drawTail(this.#edges[1]!, stream.nextFraction());
        return draw < 0 ? -beyond : beyond;
      }
      const low = this.#heights[layer]!;
      const high = this.#heights[layer + 1]!;
      if (low + stream.nextFraction() * (high - low) < this.#density.density(magnitude)) return draw;
    }
  }
}

/**
 * Edges x₀ > x₁ > … > x₂₅₆ = 0 of layers of equal area v: x₁·f(x₁) + tail = v for the base, x_i·(f(x_{i+1}) − f(x_i)) = v
 * above it, and x₁ such that the last one ends at the top. x₀ = v/f(x₁).
 */
function layers(density: EvenDensity): Float64Array {
  /** How far the topmost layer would stand above f(0) = 1: less the further out the base ends. */
  const excess = (base: number, edges?: Float64Array): number => {
    const v = base * density.density(base) + density.tailArea(base);
    let edge = base;
    let height = density.density(base);
    if (edges) {
      edges[0] = v / height;
      edges[1] = base;
    }
    for (let i = 2; i <= LAYERS; i++) {
      height += v / edge;
      if (i === LAYERS) return height - 1;
      if (height >= 1) return 1;
      edge = density.inverse(height);
      if (edges) edges[i] = edge;
    }
    return 0;
  };
  let high = 1;
  while (excess(high) > 0) high *= 2;
  let low = high / 2;
  for (;;) {
    const middle = 0.5 * (low + high);
    if (!(middle > low && middle < high)) break;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  const edges = new Float64Array(LAYERS + 1);
  excess(high, edges);
  return edges;
}
