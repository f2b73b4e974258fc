import { Model, Unit } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { plainQuantity, quantityOf } from "./quantity.ts";

const NC = Unit.parse("nC");

/** A mean of 4 nC with u 0.03 from 9 degrees of freedom, and a factor of 2 with u 0.01, exact otherwise. */
function modelOf(unknown = false) {
  const model = new Model();
  const estimate = { symbol: "x", label: "x", unit: NC };
  const a = model.estimate({ ...estimate, key: "a", type: "A", value: 4, u: unknown ? 0 : 0.03, dof: 9, unknown });
  const b = model.estimate({ ...estimate, key: "b", type: "B", unit: Unit.parse("1"), value: 2, u: 0.01 });
  return { model, node: a.times(b).named("product", "p", "product") };
}

const NAME = { id: "signal.x", symbol: "p", label: "product" };

describe("a reported quantity", () => {
  it("has value, unit, u, effective degrees of freedom, k and U", () => {
    const { model, node } = modelOf();
    const found = quantityOf(model, node, NAME);
    const u = Math.hypot(0.06, 0.04);
    expect(found).toMatchObject({ ...NAME, unit: "nC", value: 8 });
    expect(found.u).toBeCloseTo(u, 14);
    expect(found.dof).toBeCloseTo(u ** 4 / (0.06 ** 4 / 9), 9); // Welch–Satterthwaite by hand
    expect(found.U).toBeCloseTo(found.k! * u, 14);
    expect(found.k).toBeGreaterThan(2);
    expect(found).not.toHaveProperty("typeA");
  });

  it("has a budget whose shares add up to one", () => {
    const { model, node } = modelOf();
    const { budget } = quantityOf(model, node, NAME);
    expect(budget.map(({ input, type, sensitivity }) => [input, type, sensitivity])).toEqual([
      ["a", "A", 2],
      ["b", "B", 4],
    ]);
    expect(budget.map(({ share }) => share)[0]).toBeCloseTo(0.06 ** 2 / (0.06 ** 2 + 0.04 ** 2), 12);
  });

  it("with every variance known has no degrees of freedom to tell, and k of the normal distribution", () => {
    const { model } = modelOf();
    const { dof, k } = quantityOf(model, model.tape.find("b")!, { ...NAME });
    expect(dof).toBeNull();
    expect(k).toBeCloseTo(1.959964, 6); // t for infinite degrees of freedom (docs/checks.md, C)
  });

  it("with type A unknown has u of what is known, and null for the rest", () => {
    const { model, node } = modelOf(true);
    expect(quantityOf(model, node, NAME)).toMatchObject({ dof: null, k: null, U: null, typeA: "unknown" });
    expect(quantityOf(model, node, NAME).u).toBeCloseTo(0.04, 14);
  });

  it("a test has a value with its degrees of freedom and p, and no uncertainty", () => {
    const found = plainQuantity({ id: "separation.chi2", symbol: "χ²", label: "test", unit: "1" }, 3.2, {
      dof: 2,
      p: 0.2,
    });
    expect(found).toEqual({
      ...{ id: "separation.chi2", symbol: "χ²", label: "test", unit: "1", value: 3.2 },
      ...{ u: null, dof: 2, k: null, U: null, p: 0.2, budget: [] },
    });
    expect(plainQuantity({ ...found }, 3.2)).toMatchObject({ dof: null });
    expect(plainQuantity({ ...found }, 3.2)).not.toHaveProperty("p");
  });
});
