import { describe, expect, it } from "vitest";
import type { Kernel } from "./kernel.ts";
import { Model } from "./model.ts";
import { modelColumns } from "./model-columns.ts";
import { ONE } from "./unit.ts";

/** A kernel that nobody has written for columns: sum and product of its inputs, and nothing where one is negative. */
const sumAndProduct: Kernel<{ readonly times: number }> = {
  kind: "sum-and-product",
  evaluate({ times }, [a, b]) {
    if (a! < 0) throw new RangeError("negative");
    return { outputs: Float64Array.of(times * (a! + b!), a! * b!), jacobian: Float64Array.of(times, times, b!, a!) };
  },
  formula: () => ({ kind: "symbol", symbol: "s" }),
};

function built(u: number) {
  const model = new Model();
  const [a, b] = ["a", "b"].map((key, k) =>
    model.estimate({ key, symbol: key, label: key, type: "B", unit: ONE, value: k + 2, u: k === 0 ? u : 0 }),
  );
  const { outputs } = model.call(sumAndProduct, { times: 3 }, [a!, b!], [ONE, ONE]);
  return { model, a: a!, sum: outputs[0]!, product: outputs[1]! };
}

describe("kernels in blocks of trials", () => {
  it("MC-4: a kernel of any kind is evaluated once for each trial", () => {
    const { model, a, sum, product } = built(0.5);
    const [as, sums, products] = modelColumns(model, [a, sum, product], 64).run(1, 0) as Float64Array[];
    for (let i = 0; i < 64; i++) {
      expect(sums![i]).toBeCloseTo(3 * (as![i]! + 3), 12);
      expect(products![i]).toBeCloseTo(as![i]! * 3, 12);
    }
    expect(new Set(as).size).toBe(64);
  });

  it("MC-4: one of its outputs can be had without the other", () => {
    const { model, product } = built(0.5);
    const [alone] = modelColumns(model, [product], 64).run(1, 0) as Float64Array[];
    const [, beside] = modelColumns(model, [model.tape.find("a")!, product], 64).run(1, 0) as Float64Array[];
    expect(alone).toEqual(beside);
  });

  it("MC-6: a trial in which the kernel finds nothing is NaN in all outputs, and the others are not touched", () => {
    const { model, a, sum, product } = built(2);
    const [as, sums, products] = modelColumns(model, [a, sum, product], 64).run(1, 0) as Float64Array[];
    let failed = 0;
    for (let i = 0; i < 64; i++) {
      if (as![i]! < 0) failed++;
      expect(Number.isNaN(sums![i]!)).toBe(as![i]! < 0);
      expect(Number.isNaN(products![i]!)).toBe(as![i]! < 0);
      if (as![i]! < 0) continue;
      expect(sums![i]).toBeCloseTo(3 * (as![i]! + 3), 12);
      expect(products![i]).toBeCloseTo(as![i]! * 3, 12);
    }
    expect(failed).toBeGreaterThan(3); // P(x < −1) = 0.16 of 64
  });

  it("MC-4: a kernel whose inputs do not vary keeps its results", () => {
    const { model, sum, product } = built(0);
    expect(modelColumns(model, [sum, product], 64).run(1, 0)).toEqual([15, 6]);
  });
});
