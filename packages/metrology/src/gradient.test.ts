import { describe, expect, it } from "vitest";
import { evaluateAt } from "./evaluation.ts";
import { gradient, readingGradient } from "./gradient.ts";
import { Model } from "./model.ts";
import { Operation } from "./operations.ts";
import { differenceQuotient } from "./testing/difference-quotient.ts";
import { SPECIMEN, specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

const RESULTS = ["ratio", "relative", "factor", "result"] as const;

/** A step over which all is smooth: two of the levels' standard uncertainties, which are what bends the fit. */
const stepFor = (value: number) => 0.004 * (Math.abs(value) || 1);

describe("the gradient", () => {
  it.each(RESULTS)("MODEL-10: every derivative of the %s by an input agrees with differences to 1e-9", (name) => {
    const { model, ...nodes } = specimen();
    const node = nodes[name].index;
    const adjoints = gradient(model, node);
    let looked = 0;
    model.tape.operations.forEach((operation, leaf) => {
      if (operation !== Operation.input || leaf > node) return;
      const value = model.values[leaf]!;
      // a weight's covariances, zero or not, go into w = aᵀVa + (I·u_e)², which is near 1e-4 nC²
      const step = model.constants.has(leaf) ? 4e-7 : stepFor(value);
      const difference = differenceQuotient((x) => evaluateAt(model, new Map([[leaf, x]])).values[node]!, value, step);
      // relative, but for what rounding of the result alone does to a difference
      const tolerance = 1e-9 * Math.max(Math.abs(adjoints[leaf]!), (1e-4 * Math.abs(model.values[node]!)) / step);
      expect(Math.abs(adjoints[leaf]! - difference)).toBeLessThanOrEqual(tolerance);
      looked++;
    });
    expect(looked).toBe(22);
  });

  it.each(RESULTS)("MODEL-10: every derivative of the %s by a reading or a weight agrees with differences", (name) => {
    const { model, ...nodes } = specimen();
    const found = readingGradient(model, gradient(model, nodes[name].index));
    const columns = ["signal_1", "signal_2", "duration", "included"] as const;
    columns.forEach((column, c) => {
      SPECIMEN[column].forEach((value, row) => {
        if (Number.isNaN(value)) return;
        const f = (x: number) =>
          specimen({ [column]: SPECIMEN[column].map((own, i) => (i === row ? x : own)) })[name].value;
        // the reading without a number keeps its weight of zero: only a left-out reading may hold none
        if (column === "included" && value === 0) return;
        const step = 0.01;
        const difference = differenceQuotient(f, value, step);
        const tolerance = 1e-9 * Math.max(Math.abs(found[c]![row]!), (1e-4 * Math.abs(nodes[name].value)) / step);
        expect(Math.abs(found[c]![row]! - difference)).toBeLessThanOrEqual(tolerance);
      });
    });
    // the reading that is left out has no influence by anything that it holds
    expect(found.slice(0, 3).map((column) => column[5])).toEqual([0, 0, 0]);
  });

  it("MODEL-10: it is taken at the evaluation that is handed in, not at the estimates", () => {
    const { model, factor } = specimen();
    const { index } = model.tape.find("temperature")!;
    const at = evaluateAt(model, new Map([[index, 4]]));
    const difference = differenceQuotient(
      (x) => evaluateAt(model, new Map([[index, x]])).values[factor.index]!,
      4,
      0.04,
    );
    const adjoint = gradient(at, factor.index)[index]!;
    expect(Math.abs(adjoint - difference)).toBeLessThanOrEqual(1e-9 * Math.abs(difference) + 1e-13);
    expect(adjoint).not.toBe(gradient(model, factor.index)[index]);
  });

  it("MODEL-10: a node by itself has derivative one, by an unrelated one zero, and later ones are not there", () => {
    const model = new Model();
    const [x, y] = ["x", "y"].map((key) => model.constant({ key, symbol: key, label: key, unit: ONE, value: 3 }));
    const square = x!.times(x!);
    expect([...gradient(model, x!.index)]).toEqual([1]);
    expect([...gradient(model, square.index)]).toEqual([6, 0, 1]);
    expect(gradient(model, y!.index).length).toBe(2);
  });

  it("MODEL-10: a node that is used in several places collects what comes from each", () => {
    const model = new Model();
    const x = model.constant({ key: "x", symbol: "x", label: "x", unit: ONE, value: 0.7 });
    const twice = x.times(x).plus(x.sine()).minus(x);
    expect(gradient(model, twice.index)[x.index]).toBeCloseTo(1.4 + Math.cos(0.7) - 1, 15);
    expect(gradient(model, x.minus(x).index)[x.index]).toBe(0);
  });
});
