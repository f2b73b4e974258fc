import { describe, expect, it } from "vitest";
import { evaluateAt } from "./evaluation.ts";
import { Model } from "./model.ts";
import { modelColumns } from "./model-columns.ts";
import type { Scalar } from "./tape.ts";
import { specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

const TRIALS = 64;

/** All elements of all blocks, as nodes. */
function leavesOf(model: Model): Scalar[] {
  return model.blocks.flatMap(({ key, elements }) =>
    elements.map(({ name }) => model.tape.find(name === undefined ? key : `${key}/${name}`)!),
  );
}

describe("a model over a block of trials", () => {
  it("MC-4: every trial is the tape evaluated at that trial's draws, all operations and kernels included", () => {
    const { model, ratio, light, factor, result } = specimen();
    const leaves = leavesOf(model);
    const asked = [ratio, ...light, factor, result];
    const columns = modelColumns(model, [...leaves, ...asked], TRIALS).run(7, 3);
    for (let trial = 0; trial < TRIALS; trial++) {
      const at = (k: number) => (typeof columns[k] === "number" ? columns[k] : columns[k]![trial]!);
      const { values } = evaluateAt(model, new Map(leaves.map(({ index }, k) => [index, at(k)])));
      asked.forEach(({ index, value }, k) => {
        const found = at(leaves.length + k);
        // the kernel's own search for the fit ends within 1e-8
        expect(Math.abs(found / values[index]! - 1)).toBeLessThan(1e-8);
        expect(found).not.toBe(value);
      });
    }
  });

  it("MC-4: what depends on nothing that varies keeps the value at the estimates, as one number", () => {
    const model = new Model();
    const fixed = model.estimate({ key: "x", symbol: "x", label: "x", type: "B", unit: ONE, value: 3, u: 0 });
    const constant = model.constant({ key: "c", symbol: "c", label: "c", unit: ONE, value: 2 });
    const literal = model.tape.literal(7);
    const root = fixed.times(constant).plus(literal).squareRoot();
    expect(modelColumns(model, [root, fixed, constant, literal], TRIALS).run(1, 0)).toEqual([Math.sqrt(13), 3, 2, 7]);
  });

  it("MC-4: of what was not asked for, only what is needed is worked on", () => {
    const { model, light } = specimen();
    const [all, one] = [leavesOf(model), [light[0]!]];
    expect(modelColumns(model, one, TRIALS).width).toBeLessThan(modelColumns(model, all, TRIALS).width);
  });

  it("MC-7: a node has the same bits alone, beside others, and asked for twice", () => {
    const { model, light, result } = specimen();
    const alone = modelColumns(model, [result], TRIALS).run(5, 9)[0] as Float64Array;
    const together = modelColumns(model, [...leavesOf(model), result, ...light, result], TRIALS).run(5, 9);
    const places = leavesOf(model).length;
    expect(together[places]).toEqual(alone);
    expect(together.at(-1)).toEqual(alone);
  });

  it("MC-15: a node of another model is refused", () => {
    expect(() => modelColumns(new Model(), [specimen().result], TRIALS)).toThrow("another model");
  });
});
