import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RandomStream } from "./random-stream.ts";
import { RankedValues } from "./ranked-values.ts";
import { exp, ln } from "./special.ts";
import { standardNormal, studentT } from "./symmetric-draws.ts";

/** The plain way: sort, and try every start. */
function shortestBySorting(values: Float64Array, span: number): number {
  const sorted = values.slice().sort();
  let best = Number.POSITIVE_INFINITY;
  let start = 0;
  for (let r = 0; r + span < sorted.length; r++)
    if (sorted[r + span]! - sorted[r]! < best) {
      best = sorted[r + span]! - sorted[r]!;
      start = r;
    }
  return start;
}

function expectAlike(values: Float64Array, spans: readonly number[], ranks: readonly number[]): void {
  const sorted = values.slice().sort();
  const ranked = new RankedValues(values);
  for (const rank of ranks) expect(ranked.at(rank)).toBe(sorted[rank]);
  for (const span of spans) expect(ranked.shortest(span)).toBe(shortestBySorting(values, span));
}

const COUNT = 50_000;

function draws(of: "normal" | "cauchy" | "t3"): Float64Array {
  const filled = new Float64Array(COUNT);
  const source = of === "normal" ? standardNormal() : studentT(of === "cauchy" ? 1 : 3);
  source.fill(filled, COUNT, new RandomStream("ranks"), new Int32Array(2 * COUNT), 0.01, 3);
  return filled;
}

const RANKS = [0, 1, 2, 1249, 25_000, 48_750, COUNT - 2, COUNT - 1];
const SPANS = [1, 40_000, 47_500, COUNT - 2, COUNT - 1];

describe("values by rank", () => {
  it.each([
    ["normal", draws("normal")],
    ["Cauchy's, with a few that are very far out", draws("cauchy")],
    ["squares, dense at zero", draws("t3").map((x) => (x - 3) * (x - 3))],
    ["logarithms, of a long tail to one side", draws("normal").map((x) => exp(100 * (x - 3)))],
    ["rounded, with many ties", draws("normal").map((x) => Math.round(x * 1000) / 1000)],
    ["two heaps far apart", draws("normal").map((x, i) => (i % 3 === 0 ? x + 1e6 : x))],
    ["all alike", new Float64Array(COUNT).fill(0.3)],
    ["alike but for one", new Float64Array(COUNT).fill(0.3).with(777, 5)],
    ["of all magnitudes", draws("normal").map((x, i) => x * exp((i % 1400) - 700))],
    ["flat", Float64Array.from({ length: COUNT }, (_, i) => (i * 7919) % COUNT)],
  ])("MC-8: ranks and shortest spans are those of sorting: %s", (_, values) => {
    expectAlike(values, SPANS, RANKS);
  });

  it("MC-8: and so for any few values", () => {
    const value = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e300, max: 1e300 }),
      fc.integer({ min: -3, max: 3 }).map((x) => x / 2),
    );
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 80 }), fc.nat(), fc.nat(), (values, rank, span) => {
        const all = Float64Array.from(values, (x) => x + 0); // zeros of either sign have one rank
        expectAlike(all, [span % all.length], [rank % all.length]);
      }),
      { numRuns: 1000 },
    );
  });

  it("MC-8: and so for some hundreds, which fill several buckets", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ noNaN: true, min: 1e-6, max: 1 }), { minLength: 300, maxLength: 900 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, part) => {
          const skewed = Float64Array.from(values, (x) => -ln(x));
          const span = Math.floor(part * (skewed.length - 1));
          expectAlike(skewed, [span], [0, span, skewed.length - 1]);
        },
      ),
      { numRuns: 100 },
    );
  });

  it("MC-8: the values stay as they are", () => {
    const values = draws("normal");
    const before = values.slice();
    new RankedValues(values).shortest(47_500);
    expect(values).toEqual(before);
  });

  it("MC-15: no values, and what is no number, are refused", () => {
    expect(() => new RankedValues(new Float64Array(0))).toThrow("no values");
    expect(() => new RankedValues(Float64Array.of(1, Number.NaN, 2))).toThrow("no number");
    expect(() => new RankedValues(draws("normal").with(4321, Number.NaN))).toThrow("no number");
  });
});
