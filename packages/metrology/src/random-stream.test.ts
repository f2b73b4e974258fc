import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RandomStream } from "./random-stream.ts";

function words(stream: RandomStream, count: number): number[] {
  const filled = new Int32Array(count);
  stream.fill(filled, count);
  return Array.from(filled, (word) => word >>> 0);
}

function started(key: string, seed: number, block: number): RandomStream {
  const stream = new RandomStream(key);
  stream.start(seed, block);
  return stream;
}

describe("a stream of random words", () => {
  it("MC-1: the words from the state 1, 2, 3, 4 are those of the reference implementation of xoshiro128++ (V)", () => {
    const stream = new RandomStream("");
    stream.startAt([1, 2, 3, 4]);
    expect(words(stream, 10)).toEqual([
      641, 1573767, 3222811527, 3517856514, 836907274, 4247214768, 3867114732, 1355841295, 495546011, 621204420,
    ]);
  });

  it("MC-1: seed, key and block give the state that an independent program in Python gives them (C)", () => {
    expect(words(started("background/1", 1, 0), 3)).toEqual([927295807, 2689564530, 969958883]);
    expect(words(started("background/1", 2 ** 40 + 7, 5), 3)).toEqual([714226584, 2239636276, 2992736233]);
    expect(words(started("", 0, 0), 3)).toEqual([46739023, 698717114, 1314014254]);
  });

  it("MC-1: one word at a time, or many, they are the same words", () => {
    const [one, many] = [started("x", 3, 4), started("x", 3, 4)];
    const expected = words(many, 100);
    expect(Array.from({ length: 50 }, () => one.next() >>> 0)).toEqual(expected.slice(0, 50));
    expect(words(one, 50)).toEqual(expected.slice(50));
  });

  it("MC-1: a block starts where it starts, whatever was drawn before", () => {
    const stream = started("x", 3, 4);
    const expected = words(stream, 20);
    words(stream, 77);
    stream.start(3, 5);
    words(stream, 3);
    stream.start(3, 4);
    expect(words(stream, 20)).toEqual(expected);
  });

  it("MC-1: another seed, another key and another block each give other words", () => {
    const name = fc.record({
      key: fc.string({ maxLength: 12 }),
      seed: fc.integer({ min: 0, max: Number.MAX_SAFE_INTEGER }),
      block: fc.integer({ min: 0, max: 4294967295 }),
    });
    fc.assert(
      fc.property(name, name, (a, b) => {
        fc.pre(a.key !== b.key || a.seed !== b.seed || a.block !== b.block);
        // three words alike by chance: once in 8e28
        expect(words(started(a.key, a.seed, a.block), 3)).not.toEqual(words(started(b.key, b.seed, b.block), 3));
      }),
      { numRuns: 2000 },
    );
  });

  it("MC-1: neighbouring blocks, seeds and keys are as independent as words of one stream", () => {
    const first = (stream: RandomStream) => stream.next();
    const neighbours = [
      Array.from({ length: 4096 }, (_, i) => first(started("x", 1, i))),
      Array.from({ length: 4096 }, (_, i) => first(started("x", i, 1))),
      Array.from({ length: 4096 }, (_, i) => first(started(`x${i}`, 1, 1))),
    ];
    for (const row of neighbours) {
      expect(new Set(row).size).toBeGreaterThan(4090); // 2 pairs alike in 4096 of 2^32: 1 in 1e5
      for (let bit = 0; bit < 32; bit++) {
        const ones = row.filter((word) => (word >>> bit) & 1).length;
        // binomial, sd 32: 4.5 of them in one of 96 counts once in 1500 tries
        expect(Math.abs(ones - 2048)).toBeLessThan(144);
      }
    }
  });

  it("MC-1: a fraction lies strictly between 0 and 1", () => {
    const stream = started("x", 1, 1);
    const fractions = Array.from({ length: 10_000 }, () => stream.nextFraction());
    expect(Math.min(...fractions)).toBeGreaterThan(0);
    expect(Math.max(...fractions)).toBeLessThan(1);
    expect((-2147483648 + 2147483648.5) / 4294967296).toBeGreaterThan(0); // the least word
    expect((2147483647 + 2147483648.5) / 4294967296).toBeLessThan(1); // the largest
  });

  it("MC-15: a seed or block that is no whole number, or out of range, is refused with its value", () => {
    const stream = new RandomStream("x");
    for (const seed of [-1, 0.5, 2 ** 53, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => stream.start(seed, 0)).toThrow(`2^53 - 1, not ${seed}`);
    for (const block of [-1, 0.5, 2 ** 32, Number.NaN])
      expect(() => stream.start(0, block)).toThrow(`2^32 - 1, not ${block}`);
    stream.start(2 ** 53 - 1, 2 ** 32 - 1);
  });
});
