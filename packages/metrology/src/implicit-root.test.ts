import { describe, expect, it } from "vitest";
import { formulaText } from "./formula.ts";
import { gradient } from "./gradient.ts";
import { rootOf } from "./implicit-root.ts";
import { Model } from "./model.ts";
import { Program } from "./program.ts";
import { propagate } from "./propagation.ts";
import { restore, type StoredModel, store } from "./serialisation.ts";
import { formulaFor } from "./trace.ts";
import { ONE } from "./unit.ts";

const slot = (symbol: string) => ({ symbol, unit: ONE });

/** y² = x₁·x₂, so y = √(x₁·x₂). */
const MEAN = new Program([], ["x_1", "x_2", "y"].map(slot), (_, [a, b, y]) => [y!.times(y!).minus(a!.times(b!))]);

function solved(a: number, b: number) {
  const model = new Model();
  const inputs = [a, b].map((value, i) =>
    model.estimate({ key: `x${i}`, symbol: `x_${i}`, label: "input", type: "B", unit: ONE, value, u: 0.01 * (i + 1) }),
  );
  const root = rootOf(model, { program: MEAN, low: 0, high: 100 }, inputs).named("y", "y", "geometric mean");
  return { model, root };
}

describe("the solution of an equation", () => {
  it("KERN-7: solves for its last unknown to the last digits", () => {
    expect(solved(2, 8).root.value).toBeCloseTo(4, 14);
    expect(solved(3, 5).root.value).toBeCloseTo(Math.sqrt(15), 14);
  });

  it("KERN-7: its derivatives are those of the explicit solution: ∂y/∂x₁ = ½√(x₂/x₁)", () => {
    const { model, root } = solved(2, 8);
    const { u } = propagate(model, root);
    const adjoints = gradient(model, root.index);
    expect(adjoints[model.tape.find("x0")!.index]).toBeCloseTo(1, 12);
    expect(adjoints[model.tape.find("x1")!.index]).toBeCloseTo(0.25, 12);
    expect(u).toBeCloseTo(Math.sqrt(0.01 ** 2 + 0.005 ** 2), 12);
  });

  it("KERN-7: an equation without a change of sign between the ends is refused", () => {
    expect(() => solved(-2, 8)).toThrow(/no change of sign/);
  });

  it("TRACE-5: its formula says the equation", () => {
    const { model, root } = solved(2, 8);
    const text = formulaText(formulaFor(model, root.index), () => "?");
    expect(text).toBe("y, for which y · y − x_1 · x_2 = 0");
  });

  it("STORE-1: it is stored and read back to the same bits", () => {
    const { model, root } = solved(3, 5);
    const again = restore(JSON.parse(JSON.stringify(store(model))) as StoredModel);
    expect(again.tape.find("y")!.value).toBe(root.value);
    expect(propagate(again, again.tape.find("y")!).u).toBe(propagate(model, root).u);
  });
});
