/** Most buckets that values are counted into: more than that fall out of the cache. */
const MOST_BUCKETS = 16384;

/** Values that the range of the buckets is taken from. */
const SAMPLE = 2048;

/** A stretch of ranks, from 0. */
interface Stretch {
  readonly from: number;
  /** The last one. */
  readonly to: number;
}

/**
 * Many values by rank, without sorting them all: they are counted into buckets of equal width, and only the buckets that
 * somebody asks for are sorted. What comes out is to the bit what sorting would give.
 */
export class RankedValues {
  readonly count: number;
  readonly #values: Float64Array;
  readonly #low: number;
  /** Buckets per unit; zero where all values go into one. */
  readonly #scale: number;
  readonly #buckets: number;
  /** Rank of the first value of each bucket, and the count at the end. Bucket 0 is open below, the last one above. */
  readonly #firstRank: Uint32Array;
  readonly #sorted = new Map<number, Float64Array>();

  /** @throws RangeError where a value is no number, or there are none. */
  constructor(values: Float64Array) {
    this.#values = values;
    this.count = values.length;
    if (values.length === 0) throw new RangeError("no values have no ranks");
    const buckets = Math.max(1, Math.min(MOST_BUCKETS, values.length >> 4));
    const sample = Float64Array.from(
      { length: Math.min(SAMPLE, values.length) },
      (_, i) => values[Math.floor((i * values.length) / Math.min(SAMPLE, values.length))]!,
    ).sort();
    const edge = sample.length >> 9; // a few of the sample's extremes do not stretch the range
    this.#low = sample[edge]!;
    const scale = buckets / (sample[sample.length - 1 - edge]! - this.#low);
    this.#scale = scale > 0 && scale < Number.POSITIVE_INFINITY ? scale : 0;
    this.#buckets = buckets;
    this.#firstRank = new Uint32Array(buckets + 3);
    const ranks = this.#firstRank;
    for (let i = 0; i < values.length; i++) ranks[this.#bucketOf(values[i]!) + 1]!++;
    for (let k = 1; k < ranks.length; k++) ranks[k]! += ranks[k - 1]!;
    // NaN falls into no bucket
    if (ranks[ranks.length - 1]! < values.length) throw new RangeError("what is no number has no rank");
  }

  /** The value of a rank, from 0. */
  at(rank: number): number {
    const bucket = this.#bucketAt(rank);
    this.#sort([bucket]);
    return this.#sorted.get(bucket)![rank - this.#firstRank[bucket]!]!;
  }

  /** Makes some ranks ready, and those that {@link shortest} needs, in one go through the values. */
  prepare(ranks: readonly number[], span: number): void {
    this.#sort([...ranks.map((rank) => this.#bucketAt(rank)), ...this.#candidates(span).needed]);
  }

  /**
   * The rank r from which r + span is reached over the shortest distance; the first of several.
   *
   * Bounds of the distance from the buckets alone leave few buckets to be sorted.
   */
  shortest(span: number): number {
    const { starts, needed } = this.#candidates(span);
    this.#sort(needed);
    let best = Number.POSITIVE_INFINITY;
    let bestRank = 0;
    for (const { from, to } of starts)
      for (let rank = from; rank <= to; rank++) {
        const distance = this.at(rank + span) - this.at(rank);
        if (distance < best) {
          best = distance;
          bestRank = rank;
        }
      }
    return bestRank;
  }

  /** Stretches of ranks, each in one bucket, from which the shortest distance may start, and all buckets concerned. */
  #candidates(span: number): { starts: Stretch[]; needed: number[] } {
    const ranks = this.#firstRank;
    const last = this.count - 1 - span;
    const width = 1 / this.#scale;
    const lowEdge = (bucket: number) => (bucket === 0 ? Number.NEGATIVE_INFINITY : this.#low + (bucket - 1) * width);
    const highEdge = (bucket: number) =>
      bucket > this.#buckets ? Number.POSITIVE_INFINITY : this.#low + bucket * width;
    const stretches: (Stretch & { own: number; ends: number[]; least: number })[] = [];
    let most = Number.POSITIVE_INFINITY;
    for (let own = 0, end = 0; own + 1 < ranks.length && ranks[own]! <= last; own++) {
      const [from, to] = [ranks[own]!, Math.min(ranks[own + 1]! - 1, last)];
      if (to < from) continue;
      while (ranks[end + 1]! <= from + span) end++;
      const ends: number[] = [];
      for (let bucket = end; bucket + 1 < ranks.length && ranks[bucket]! <= to + span; bucket++) ends.push(bucket);
      // the edges are rounded, so each bound is given a bucket's width to either side
      stretches.push({ from, to, own, ends, least: lowEdge(end) - highEdge(own) - 2 * width });
      const upper = highEdge(end) - lowEdge(own) + 2 * width;
      if (upper < most) most = upper;
    }
    const starts = stretches.filter(({ least }) => !(least > most));
    return { starts, needed: starts.flatMap(({ own, ends }) => [own, ...ends]) };
  }

  #sort(buckets: readonly number[]): void {
    const missing = [...new Set(buckets)].filter((bucket) => !this.#sorted.has(bucket));
    if (missing.length === 0) return;
    const ranks = this.#firstRank;
    const places = new Int32Array(ranks.length).fill(-1);
    let total = 0;
    for (const bucket of missing) {
      places[bucket] = total;
      total += ranks[bucket + 1]! - ranks[bucket]!;
    }
    const gathered = new Float64Array(total);
    const values = this.#values;
    for (let i = 0; i < values.length; i++) {
      const value = values[i]!;
      const bucket = this.#bucketOf(value);
      const place = places[bucket]!;
      if (place < 0) continue;
      gathered[place] = value;
      places[bucket] = place + 1;
    }
    for (const bucket of missing) {
      const end = places[bucket]!;
      this.#sorted.set(bucket, gathered.subarray(end - (ranks[bucket + 1]! - ranks[bucket]!), end).sort());
    }
  }

  /** Never falls as the value rises: difference and product are rounded, but in order. */
  #bucketOf(value: number): number {
    const place = (value - this.#low) * this.#scale;
    return place < 0 ? 0 : place >= this.#buckets ? this.#buckets + 1 : Math.floor(place) + 1;
  }

  #bucketAt(rank: number): number {
    const ranks = this.#firstRank;
    let [low, high] = [0, ranks.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (ranks[middle]! <= rank) low = middle;
      else high = middle;
    }
    return low;
  }
}
