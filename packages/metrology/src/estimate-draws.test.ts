import { describe, expect, it } from "vitest";
import { normalCdf, tCdf } from "./distributions.ts";
import { type Block, Model } from "./model.ts";
import { modelColumns } from "./model-columns.ts";
import { kolmogorov } from "./testing/kolmogorov.ts";
import { ONE } from "./unit.ts";

const COUNT = 100_000;

type Plain = Partial<Block> & { readonly values: readonly number[]; readonly covariance: readonly number[] };

/** Draws of all elements of some blocks, block after block. */
function drawn(blocks: readonly Plain[], count = COUNT, seed = 1): Float64Array[] {
  const model = new Model();
  const nodes = blocks.flatMap(({ values, ...block }, b) =>
    model.estimates({
      key: `b${b}`,
      type: "A",
      ...block,
      elements: values.map((value, i) => ({ name: `${i}`, symbol: "x", label: "x", unit: ONE, value })),
    }),
  );
  return modelColumns(model, nodes, count)
    .run(seed, 0)
    .map((column) => (typeof column === "number" ? new Float64Array(count).fill(column) : column.slice()));
}

function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}

function covarianceOf(a: Float64Array, b: Float64Array): number {
  const [ma, mb] = [meanOf(a), meanOf(b)];
  return meanOf(a.map((x, i) => (x - ma) * (b[i]! - mb)));
}

describe("draws of estimates", () => {
  it("MC-3: a block has its means and its covariance", () => {
    const values = [1, -2, 5];
    const covariance = [4, 1.2, -0.6, 1.2, 1, 0.1, -0.6, 0.1, 0.25];
    const draws = drawn([{ values, covariance }]);
    values.forEach((value, i) => {
      const u = Math.sqrt(covariance[4 * i]!);
      expect(Math.abs(meanOf(draws[i]!) - value)).toBeLessThan((4 * u) / Math.sqrt(COUNT));
      expect(kolmogorov(draws[i]!, (x) => normalCdf((x - value) / u))).toBeLessThan(1.95);
      for (let j = 0; j <= i; j++) {
        // variance of a sample covariance of normals: (v_i·v_j + v_ij²)/M
        const vij = covariance[3 * i + j]!;
        const sd = Math.sqrt((covariance[4 * i]! * covariance[4 * j]! + vij * vij) / COUNT);
        expect(Math.abs(covarianceOf(draws[i]!, draws[j]!) - vij)).toBeLessThan(4 * sd);
      }
    });
  });

  it("MC-3: elements that are fully correlated move as one", () => {
    const [a, b, c] = drawn([{ values: [1, 2, 3], covariance: [1, 2, -1, 2, 4, -2, -1, -2, 1] }], 1000);
    a!.forEach((x, i) => {
      expect(b![i]).toBeCloseTo(2 + 2 * (x - 1), 12);
      expect(c![i]).toBeCloseTo(3 - (x - 1), 12);
    });
  });

  it("MC-3: blocks are independent of each other", () => {
    const [a, b] = drawn([
      { values: [0], covariance: [1] },
      { values: [0], covariance: [1] },
    ]);
    expect(Math.abs(covarianceOf(a!, b!))).toBeLessThan(4 / Math.sqrt(COUNT));
  });

  it("MC-3: finite degrees of freedom make t, of an element alone, of correlated ones and of blocks of one group", () => {
    const dof = 4;
    const blocks: Plain[] = [
      { values: [10], covariance: [4], dof },
      { values: [10, 20], covariance: [4, 1, 1, 1], dof },
      { values: [10], covariance: [4], dof: 3, group: "g" },
      { values: [10], covariance: [4], dof: 3, group: "g" },
    ];
    const draws = drawn(blocks);
    const expected = [
      [10, 2, 4],
      [10, 2, 4],
      [20, 1, 4],
      [10, 2, 3],
      [10, 2, 3],
    ] as const;
    expected.forEach(([value, u, nu], k) => {
      expect(kolmogorov(draws[k]!, (x) => tCdf((x - value) / u, nu))).toBeLessThan(1.95);
    });
  });

  it("MC-3: blocks of one group share one χ² per trial: their ratio is Cauchy's, and their sum is t", () => {
    const dof = 3;
    const shared = (group?: string): Plain[] =>
      Array.from({ length: 8 }, () => ({ values: [0], covariance: [1], dof, ...(group !== undefined && { group }) }));
    const ratio = ([a, b]: Float64Array[]) => a!.map((x, i) => x / b![i]!);
    const sum = (draws: Float64Array[]) =>
      draws[0]!.map((_, i) => draws.reduce((total, x) => total + x[i]!, 0) / Math.sqrt(8));
    const [together, apart] = [drawn(shared("g")), drawn(shared())];
    expect(kolmogorov(ratio(together), (x) => tCdf(x, 1))).toBeLessThan(1.95);
    expect(kolmogorov(sum(together), (x) => tCdf(x, dof))).toBeLessThan(1.95);
    // each with a χ² of its own: another distribution (4 by chance: once in 4e13 samples)
    expect(kolmogorov(ratio(apart), (x) => tCdf(x, 1))).toBeGreaterThan(4);
    expect(kolmogorov(sum(apart), (x) => tCdf(x, dof))).toBeGreaterThan(4);
  });

  it("MC-3: so do the elements of one block", () => {
    const [a, b] = drawn([{ values: [0, 0], covariance: [1, 0, 0, 1], dof: 3 }]);
    expect(
      kolmogorov(
        a!.map((x, i) => x / b![i]!),
        (x) => tCdf(x, 1),
      ),
    ).toBeLessThan(1.95);
  });

  it("MC-3: a rectangular block of independent elements is rectangular in each", () => {
    const draws = drawn([{ values: [5, 6], covariance: [3, 0, 0, 12], distribution: "rectangular" }]);
    [
      [5, 3],
      [6, 6],
    ].forEach(([value, half], k) => {
      const cdf = (x: number) => Math.min(1, Math.max(0, 0.5 + (x - value!) / (2 * half!)));
      expect(kolmogorov(draws[k]!, cdf)).toBeLessThan(1.95);
    });
  });

  it("MC-3: elements without variance, and blocks of unknown variance, stay at their estimates", () => {
    const [a, b, c] = drawn(
      [
        { values: [7, 8], covariance: [1, 0, 0, 0] },
        { values: [9], covariance: [0], unknown: true, dof: 0 },
      ],
      100,
    );
    expect(new Set(a).size).toBe(100);
    expect(new Set(b)).toEqual(new Set([8]));
    expect(new Set(c)).toEqual(new Set([9]));
  });

  it("MC-15: a covariance that nothing can have is refused by its block", () => {
    // each pair is possible, all three together are not: x₁ + x₂ − x₃ would have the variance 3 − 6·0.9
    const covariance = [1, -0.9, 0.9, -0.9, 1, 0.9, 0.9, 0.9, 1];
    expect(() => drawn([{ key: "odd", values: [0, 0, 0], covariance }], 10)).toThrow(
      /odd: no data have this covariance/,
    );
    // a correlation of one that somebody has rounded up
    expect(() => drawn([{ values: [0, 0], covariance: [1, 1.0000004, 1.0000004, 1] }], 10)).not.toThrow();
  });

  it("MC-7: an element draws the same numbers whatever stands beside it in the model", () => {
    const own: Plain = { key: "own", values: [1, 2], covariance: [1, 0.5, 0.5, 1], dof: 5 };
    const [alone] = drawn([own], 100);
    const [, beside] = drawn([{ values: [3], covariance: [1] }, own], 100);
    expect(beside).toEqual(alone);
    expect(drawn([own], 100, 2)[0]).not.toEqual(alone);
  });
});
