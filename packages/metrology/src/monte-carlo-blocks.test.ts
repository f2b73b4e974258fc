import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Model } from "./model.ts";
import { blockRunner, mergeBlocks, TRIALS_PER_BLOCK, type TrialBlocks } from "./monte-carlo-blocks.ts";
import { restore, store } from "./serialisation.ts";
import { specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

const SEED = 20_260_311;

/** Bits of some values, as a number of 32 bits (FNV-1a). */
function digest(values: Float64Array): number {
  return new Uint8Array(values.buffer, values.byteOffset, values.byteLength).reduce(
    (hash, byte) => Math.imul(hash ^ byte, 16777619) >>> 0,
    2166136261,
  );
}

describe("blocks of trials", () => {
  const { model, ratio, result } = specimen();
  const nodes = [ratio, result];
  const whole = blockRunner(model, nodes)(SEED, 0, 8);

  it("MC-7: any split of the blocks, evaluated in any order and put together, gives the same bits", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 1, max: 7 }), { maxLength: 7 }),
        fc.infiniteStream(fc.nat()),
        (cuts, order) => {
          const ends = [0, ...cuts.sort((a, b) => a - b), 8];
          const ranges = ends.slice(1).map((to, i) => ({ from: ends[i]!, to, turn: Number(order.next().value) }));
          // one runner per range, as each worker has its own
          const parts = ranges
            .sort((a, b) => a.turn - b.turn)
            .map(({ from, to }) => blockRunner(model, nodes)(SEED, from, to));
          expect(mergeBlocks(parts)).toEqual(whole);
        },
      ),
      { numRuns: 12 },
    );
  });

  it("MC-7: one runner after other blocks, seeds and runs gives the same bits too", () => {
    const run = blockRunner(model, nodes);
    run(SEED + 1, 3, 9);
    const later = run(SEED, 5, 7);
    run(SEED, 0, 1);
    expect(later.values[1]).toEqual(whole.values[1]!.slice(5 * TRIALS_PER_BLOCK, 7 * TRIALS_PER_BLOCK));
  });

  it("MC-7: a model that was stored and read back gives the same bits: a worker gets it so", () => {
    const copy = restore(store(model));
    const found = blockRunner(copy, [copy.tape.find("stem-ratio")!, copy.tape.find("result")!])(SEED, 0, 8);
    expect(found).toEqual(whole);
  });

  it("MC-7: a node gets the same bits whatever else is asked for", () => {
    expect(blockRunner(model, [result])(SEED, 0, 8).values[0]).toEqual(whole.values[1]);
  });

  it("MC-7: other blocks and other seeds give other trials", () => {
    const [first, second] = [0, 1].map((block) =>
      whole.values[0]!.slice(block * TRIALS_PER_BLOCK, (block + 1) * TRIALS_PER_BLOCK),
    );
    expect(first).not.toEqual(second);
    expect(new Set([...first!, ...second!]).size).toBe(2 * TRIALS_PER_BLOCK);
    expect(blockRunner(model, nodes)(SEED + 1, 0, 1).values[0]).not.toEqual(first);
  });

  it("MC-7: the bits themselves are the same in every engine: these are to change only when the method does", () => {
    // drawn from every distribution, through every operation of one operand
    const small = new Model();
    const draw = (key: string, distribution: "normal" | "rectangular" | "triangular" | "u-shaped", dof?: number) =>
      small.estimate({
        key,
        symbol: key,
        label: key,
        type: "B",
        unit: ONE,
        value: 1,
        u: 0.01,
        distribution,
        ...(dof !== undefined && { dof }),
      });
    const sum = draw("a", "normal")
      .plus(draw("b", "rectangular").exponential())
      .minus(draw("c", "triangular").logarithm())
      .times(draw("d", "u-shaped").sine())
      .over(draw("e", "normal", 4).cosine())
      .plus(draw("f", "triangular", 6).power(1.5).squareRoot().errorFunction().negative());
    const { values } = blockRunner(small, [sum])(1, 0, 2);
    // and through both kernels; Chromium 147 was seen to give these too
    const { values: kernels } = blockRunner(model, [result])(1, 0, 2);
    expect([digest(values[0]!), digest(kernels[0]!)]).toEqual([808691943, 2130788407]);
  });

  it("MC-7: a node that does not vary has its value in every trial", () => {
    const fixed = model.constant({ key: "fixed", symbol: "f", label: "fixed", unit: ONE, value: 4 });
    const { values } = blockRunner(model, [fixed])(SEED, 2, 4);
    expect(values[0]).toEqual(new Float64Array(2 * TRIALS_PER_BLOCK).fill(4));
  });

  it("MC-15: blocks that are none are refused", () => {
    const run = blockRunner(model, nodes);
    for (const [from, to] of [
      [0, 0],
      [3, 2],
      [-1, 2],
      [0, 1.5],
    ] as const)
      expect(() => run(SEED, from, to)).toThrow(`blocks ${from} to ${to}`);
  });

  it("MC-15: a gap, an overlap, blocks of other nodes, and none at all are refused", () => {
    const part = (from: number, to: number, count = 1): TrialBlocks => ({
      from,
      to,
      values: Array.from({ length: count }, () => new Float64Array((to - from) * TRIALS_PER_BLOCK)),
    });
    expect(() => mergeBlocks([part(3, 4), part(0, 2)])).toThrow("up to 1 are followed by block 3");
    expect(() => mergeBlocks([part(0, 2), part(1, 3)])).toThrow("up to 1 are followed by block 1");
    expect(() => mergeBlocks([part(0, 2), part(2, 3, 2)])).toThrow("of 1 and of 2 nodes");
    expect(() => mergeBlocks([])).toThrow("no blocks");
    expect(mergeBlocks([part(4, 5), part(2, 4)])).toMatchObject({ from: 2, to: 5 });
  });
});
