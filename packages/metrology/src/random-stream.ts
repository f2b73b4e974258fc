/** Starts of the four chains that hash a stream's name into its state: the first digits of π, in hexadecimal. */
const SALTS: readonly number[] = [0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344];

const GOLDEN = 0x9e3779b9;

const TWO_TO_32 = 4294967296;

/**
 * A stream of random 32-bit words: xoshiro128++ (D. Blackman and S. Vigna, ACM Trans. Math. Softw. 47(4), 36 (2021)),
 * period 2¹²⁸ − 1, in integer arithmetic alone and so the same in every engine.
 *
 * A stream has a key, such as the key of an input, and is started afresh for every block of trials: which words a block
 * gets depends on seed, key and block number, and on nothing that was drawn before. So blocks may be evaluated in any
 * order and in any number of threads, and an input draws the same numbers whatever else is in the model.
 */
export class RandomStream {
  readonly #state = new Int32Array(4);
  readonly #key: readonly number[];

  constructor(key: string) {
    this.#key = [0, 1].map((chain) => {
      let hash = SALTS[chain]!;
      for (let i = 0; i < key.length; i++) hash = mix((hash + GOLDEN) ^ key.charCodeAt(i));
      return hash;
    });
    this.start(0, 0);
  }

  /**
   * Goes to the start of a block.
   * @param seed a whole number from 0 to 2⁵³ − 1.
   * @param block a whole number from 0 to 2³² − 1.
   * @throws RangeError where one of them is none.
   */
  start(seed: number, block: number): void {
    if (!(Number.isSafeInteger(seed) && seed >= 0))
      throw new RangeError(`a seed is a whole number from 0 to 2^53 - 1, not ${seed}`);
    if (!(Number.isInteger(block) && block >= 0 && block < TWO_TO_32))
      throw new RangeError(`a block's number is a whole number from 0 to 2^32 - 1, not ${block}`);
    const words = [seed >>> 0, Math.floor(seed / TWO_TO_32), this.#key[0]!, this.#key[1]!, block];
    let any = 0;
    for (let chain = 0; chain < 4; chain++) {
      let hash = SALTS[chain]!;
      for (const word of words) hash = mix((hash + GOLDEN) ^ word);
      this.#state[chain] = hash;
      any |= hash;
    }
    if (any === 0) this.#state[0] = 1; // the one state that the generator never leaves
  }

  /** Goes to a state, of which not all words are zero: for comparison with other implementations. */
  startAt(state: readonly [number, number, number, number]): void {
    this.#state.set(state);
  }

  /** Fills the first words of an array, as signed numbers of 32 bits. */
  fill(words: Int32Array, count: number): void {
    const state = this.#state;
    let s0 = state[0]!;
    let s1 = state[1]!;
    let s2 = state[2]!;
    let s3 = state[3]!;
    for (let i = 0; i < count; i++) {
      const sum = (s0 + s3) | 0;
      words[i] = (((sum << 7) | (sum >>> 25)) + s0) | 0;
      const shifted = s1 << 9;
      s2 ^= s0;
      s3 ^= s1;
      s1 ^= s2;
      s0 ^= s3;
      s2 ^= shifted;
      s3 = (s3 << 11) | (s3 >>> 21);
    }
    state[0] = s0;
    state[1] = s1;
    state[2] = s2;
    state[3] = s3;
  }

  /** One word. */
  next(): number {
    const state = this.#state;
    const s0 = state[0]!;
    const s1 = state[1]!;
    const s2 = state[2]! ^ s0;
    const s3 = state[3]! ^ s1;
    const sum = (s0 + state[3]!) | 0;
    state[0] = s0 ^ s3;
    state[1] = s1 ^ s2;
    state[2] = s2 ^ (s1 << 9);
    state[3] = (s3 << 11) | (s3 >>> 21);
    return (((sum << 7) | (sum >>> 25)) + s0) | 0;
  }

  /** A number strictly between 0 and 1, of 32 bits. */
  nextFraction(): number {
    return (this.next() + 2147483648.5) / TWO_TO_32;
  }
}

/** The finalising step of MurmurHash3: every bit of the result depends on every bit of x. */
function mix(x: number): number {
  let h = x ^ (x >>> 16);
  h = Math.imul(h, 0x85ebca6b);
  h ^= h >>> 13;
  h = Math.imul(h, 0xc2b2ae35);
  return h ^ (h >>> 16);
}
