import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evaluateAt } from "./evaluation.ts";
import { Model } from "./model.ts";
import { budget, covarianceOf, propagate } from "./propagation.ts";
import { type Scalar, sum } from "./tape.ts";
import { specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

const element = (name: string, value: number) => ({ name, symbol: name, label: name, unit: ONE, value });

/** x (u 3) and y (u 4) of one block with that correlation. */
function pair(correlation: number) {
  const model = new Model();
  const [x, y] = model.estimates({
    key: "pair",
    type: "B",
    covariance: [9, 12 * correlation, 12 * correlation, 16],
    elements: [element("x", 10), element("y", 20)],
  }) as [Scalar, Scalar];
  return { model, x, y };
}

function estimate(
  model: Model,
  key: string,
  u: number,
  more: { dof?: number; group?: string; unknown?: boolean } = {},
) {
  return model.estimate({ key, symbol: key, label: key, type: "A", unit: ONE, value: 1, u, ...more });
}

describe("propagation", () => {
  it("PROP-2: within a block correlation adds to a sum and takes from a difference", () => {
    for (const r of [-1, -0.5, 0, 0.5, 1]) {
      const { model, x, y } = pair(r);
      expect(propagate(model, x.plus(y)).u).toBeCloseTo(Math.sqrt(25 + 24 * r), 12);
      expect(propagate(model, x.minus(y)).u).toBeCloseTo(Math.sqrt(25 - 24 * r), 12);
    }
  });

  it("PROP-9: between blocks there is independence", () => {
    const model = new Model();
    const [a, b] = [estimate(model, "a", 3), estimate(model, "b", 4)];
    expect(propagate(model, a.plus(b)).u).toBe(5);
    expect(propagate(model, a.minus(b)).u).toBe(5);
    expect([...covarianceOf(model, [a, b])]).toEqual([9, 0, 0, 16]);
  });

  it("PROP-2: any linear form of any correlated inputs has the variance cᵀΣc, and two of them the covariance cᵀΣd", () => {
    // Σ = LLᵀ of any L is a covariance; thousandths of either sign, whose products do not vanish in rounding
    const thousandths = fc.integer({ min: -3000, max: 3000 }).map((n) => n / 1000);
    const three = fc.array(thousandths, { minLength: 3, maxLength: 3 });
    fc.assert(
      fc.property(fc.array(three, { minLength: 3, maxLength: 3 }), three, three, (l, c, d) => {
        const sigma = l.flatMap((row) => l.map((other) => row.reduce((s, x, k) => s + x * other[k]!, 0)));
        const model = new Model();
        const inputs = model.estimates({
          key: "x",
          type: "B",
          covariance: sigma,
          elements: ["1", "2", "3"].map((name) => element(name, 1)),
        });
        const form = (coefficients: readonly number[]) => sum(inputs.map((x, i) => x.times(coefficients[i]!)));
        const exact = (a: readonly number[], b: readonly number[]) =>
          sigma.reduce((s, x, k) => s + a[Math.floor(k / 3)]! * x * b[k % 3]!, 0);
        const found = covarianceOf(model, [form(c), form(d)]);
        [exact(c, c), exact(c, d), exact(d, c), exact(d, d)].forEach((value, k) => {
          expect(Math.abs(found[k]! - value)).toBeLessThanOrEqual(1e-12);
        });
      }),
    );
  });

  it("PROP-7: with all variances known the degrees of freedom are infinite and k is 1.959964 (C)", () => {
    const model = new Model();
    const { dof, k, U, u } = propagate(model, estimate(model, "a", 3));
    expect(dof).toBe(Number.POSITIVE_INFINITY);
    expect(k).toBeCloseTo(1.959964, 6);
    expect(U).toBe(k * u);
  });

  it("PROP-7: k is Student's for the degrees of freedom: 2.119905 for 16, 12.706205 for 1 (C)", () => {
    const model = new Model();
    expect(propagate(model, estimate(model, "a", 3, { dof: 16 })).k).toBeCloseTo(2.119905, 6);
    expect(propagate(model, estimate(model, "b", 3, { dof: 1 })).k).toBeCloseTo(12.706205, 6);
  });

  it("PROP-3: 0.25, 0.57 and 0.82 % of 10, 5 and 15 readings: u 1.02947 %, 18.9987 degrees of freedom (C)", () => {
    const model = new Model();
    const parts = [estimate(model, "a", 0.25, { dof: 9 }), estimate(model, "b", 0.57, { dof: 4 })];
    const { u, dof, U } = propagate(model, sum([...parts, estimate(model, "c", 0.82, { dof: 14 })]));
    expect(u).toBeCloseTo(1.02947, 5);
    expect(dof).toBeCloseTo(18.9987, 4);
    // the published 2.15470 has k for the rounded 19
    expect(U).toBeCloseTo(2.1547, 4);
  });

  it("PROP-3: what blocks of one group contribute is combined before the formula, whatever cancels in it", () => {
    const model = new Model();
    const [a, b] = [estimate(model, "a", 3, { dof: 5, group: "g" }), estimate(model, "b", 4, { dof: 5, group: "g" })];
    const known = estimate(model, "c", 5);
    // half of the variance with 5 degrees of freedom: 5/(½)²
    expect(propagate(model, a.plus(b).plus(known)).dof).toBeCloseTo(20, 12);
    // what cancels contributes nothing
    expect(propagate(model, a.minus(a).plus(known)).dof).toBe(Number.POSITIVE_INFINITY);
  });

  it("PROP-6: a variance that nobody knows leaves u of what is known, and no dof, k or U", () => {
    const model = new Model();
    const known = estimate(model, "known", 3, { dof: 9 });
    const unknown = estimate(model, "unknown", 0, { unknown: true });
    const both = propagate(model, known.plus(unknown));
    expect(both).toMatchObject({ u: 3, typeAUnknown: true });
    expect([both.dof, both.k, both.U]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(budget(both).map(({ input, share }) => [input, share])).toEqual([
      ["known", 1],
      ["unknown", 0],
    ]);
  });

  it("PROP-6: a result that does not depend on it, or in which it cancels, is not touched", () => {
    const model = new Model();
    const known = estimate(model, "known", 3, { dof: 9 });
    const unknown = estimate(model, "unknown", 0, { unknown: true });
    for (const node of [known, known.plus(unknown).minus(unknown)]) {
      const { typeAUnknown, dof, u } = propagate(model, node);
      expect({ typeAUnknown, dof, u }).toEqual({ typeAUnknown: false, dof: 9, u: 3 });
    }
  });

  it("PROP-10: results are compared by their difference: a − a is 0 ± 0, and so are two routes to one number", () => {
    const { model, x, y } = pair(0.3);
    const product = x.times(y);
    expect(propagate(model, product.minus(product))).toMatchObject({ value: 0, u: 0, dof: Number.POSITIVE_INFINITY });
    const routes = x
      .plus(y)
      .power(2)
      .minus(x.times(x).plus(product.times(2)).plus(y.times(y)));
    expect(routes.value).toBe(0);
    expect(propagate(model, routes).u).toBe(0);
    const { model: whole, ratio } = specimen();
    expect(propagate(whole, ratio.minus(ratio)).u).toBe(0);
  });

  it("PROP-10: two numbers that look alike are not the same: their difference keeps its uncertainty", () => {
    const model = new Model();
    const [a, b] = [estimate(model, "a", 3), estimate(model, "b", 3)];
    expect(propagate(model, a.minus(b))).toMatchObject({ value: 0, u: Math.sqrt(18) });
  });

  it("PROP-4: a budget has a line for each input with a part in it, in the order of the model", () => {
    const { model, x, y } = pair(-0.5);
    estimate(model, "elsewhere", 1);
    const sharp = estimate(model, "sharp", 0);
    const lines = budget(propagate(model, y.times(2).plus(x).plus(sharp)));
    expect(lines.map(({ input }) => input)).toEqual(["pair/x", "pair/y"]);
    expect(lines[1]).toMatchObject({
      unit: "1",
      type: "B",
      value: 20,
      u: 4,
      sensitivity: 2,
      contribution: 8,
    });
    // u² = 9 + 64 − 24 = 49; shares (9 − 12)/49 and (64 − 12)/49
    expect(lines.map(({ share }) => share)).toEqual([expect.closeTo(-3 / 49, 14), expect.closeTo(52 / 49, 14)]);
  });

  it("PROP-4: in the whole graph the shares add up to one for every result", () => {
    const { model, ratio, relative, factor, result } = specimen();
    for (const node of [ratio, relative, factor, result]) {
      const lines = budget(propagate(model, node));
      expect(lines.length).toBe(13);
      expect(lines.reduce((total, { share }) => total + share, 0)).toBeCloseTo(1, 12);
    }
  });

  it("PROP-4: a budget at other inputs shows those inputs, and what they do there", () => {
    const { model, x, y } = pair(0);
    const product = x.times(y);
    const lines = budget(propagate(evaluateAt(model, new Map([[x.index, 7]])), product));
    expect(lines.map(({ value, sensitivity }) => [value, sensitivity])).toEqual([
      [7, 20],
      [20, 7],
    ]);
  });

  it("PROP-4: a number that depends on no estimate has no budget, and no uncertainty", () => {
    const model = new Model();
    const pi = model.constant({ key: "pi", symbol: "π", label: "pi", unit: ONE, value: Math.PI });
    const found = propagate(model, pi.times(2));
    expect(found).toMatchObject({ value: 2 * Math.PI, u: 0, U: 0, dof: Number.POSITIVE_INFINITY });
    expect(budget(found)).toEqual([]);
  });
});
