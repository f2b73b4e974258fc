import { covarianceOf, Model, propagate, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addRepeats, type RepeatedCondition } from "./repeats.ts";

const NC = Unit.parse("nC");
const COLUMNS = ["blue", "green"].map((name) => ({ name, symbol: `q_${name}`, label: name }));

/** Conditions of two columns, with means as constants of the model. */
function conditionsIn(
  model: Model,
  all: Readonly<Record<string, readonly (readonly number[])[]>>,
): RepeatedCondition[] {
  return Object.entries(all).map(([name, readings]) => ({
    name,
    readings,
    columns: COLUMNS,
    displayVariance: [1e-12, 1e-12],
    means: COLUMNS.map(({ name: column }, c) => {
      const value = readings.reduce((total, row) => total + row[c]!, 0) / readings.length;
      return model.constant({ key: `${name}/${column}`, symbol: "q", label: "q", unit: NC, value });
    }),
  }));
}

/** Two conditions whose relative deviations are ±1 % and ±2 %: C_rel can be written down. */
const TWO = {
  little: [
    [9.9, 4.9],
    [10, 5],
    [10.1, 5.1],
  ],
  much: [
    [19.6, 40.8],
    [20.4, 39.2],
  ],
};
// little: deviations −0.01 0 0.01 | −0.02 0 0.02 → Σ: 0.0002, 0.0008, both 0.0004
// much: −0.02 0.02 | 0.02 −0.02 → Σ: 0.0008, 0.0008, both −0.0008;  over ν = 2 + 1
const REL = { blue: 0.001 / 3, green: 0.0016 / 3, both: -0.0004 / 3 };

describe("type A from repeats", () => {
  it("TYPEA-1: a mean has the relative covariance pooled over the conditions, times the means, over its readings", () => {
    const model = new Model();
    const { means, dof, wild } = addRepeats(model, "separation", conditionsIn(model, TWO), "relative");
    expect({ dof, wild }).toEqual({ dof: 3, wild: [] });
    const little = covarianceOf(model, means[0]!);
    expect(little[0]).toBeCloseTo((REL.blue * 10 * 10) / 3, 14);
    expect(little[3]).toBeCloseTo((REL.green * 5 * 5) / 3, 14);
    expect(little[1]).toBeCloseTo((REL.both * 10 * 5) / 3, 14);
    const much = covarianceOf(model, means[1]!);
    expect(much[0]).toBeCloseTo((REL.blue * 20 * 20) / 2, 14);
    expect(much[1]).toBeCloseTo((REL.both * 20 * 40) / 2, 14);
  });

  it("TYPEA-1: all conditions are one group, whose degrees of freedom are Σ(n − 1) and not less for a sum of them", () => {
    const model = new Model();
    const { means } = addRepeats(model, "separation", conditionsIn(model, TWO), "relative");
    expect(propagate(model, means[0]![0]!).dof).toBeCloseTo(3, 12);
    expect(propagate(model, means[0]![0]!.plus(means[1]![1]!)).dof).toBeCloseTo(3, 12);
    const across = covarianceOf(model, [means[0]![0]!, means[1]![0]!]);
    expect(across[1]).toBe(0); // the deviations themselves are independent
  });

  it("TYPEA-1: a condition read once takes part with the others' covariance", () => {
    const model = new Model();
    const conditions = conditionsIn(model, { ...TWO, once: [[30, 10]] });
    const { means, dof } = addRepeats(model, "separation", conditions, "relative");
    expect(dof).toBe(3);
    expect(covarianceOf(model, means[2]!)[1]).toBeCloseTo(REL.both * 30 * 10, 12);
  });

  it("TYPEA-1: the weights are the same pooled covariances", () => {
    const model = new Model();
    const { weightCovariance } = addRepeats(model, "separation", conditionsIn(model, TWO), "relative");
    expect(weightCovariance[1]![2]).toBeCloseTo((REL.both * 20 * 40) / 2, 14);
    expect(weightCovariance[0]![3]).toBeCloseTo((REL.green * 5 * 5) / 3, 14);
  });

  it("TYPEA-7: a reader's noise is shared out in absolute terms: a small reading scatters more, in relation", () => {
    const model = new Model();
    const rows = (size: number) => [-1, 0, 1, -1, 1].map((d) => [size + 0.004 * d, size - 0.004 * d]);
    const noise = Float64Array.of(0.004 * 0.004, 0, 0, 0.004 * 0.004);
    const conditions = conditionsIn(model, { large: rows(10), middle: rows(5), small: rows(1) }).map((condition) => ({
      ...condition,
      constant: noise,
    }));
    const { means, wild, dof, weightCovariance } = addRepeats(model, "s", conditions, "relative", 2, 8);
    expect(wild).toEqual([]);
    // all of it is constant: Σd² = 4 over ν = 4; channels that go strictly against each other leave no room for noise of
    // their own, and get some
    for (const [mean] of means) {
      expect((propagate(model, mean!).u * Math.sqrt(5)) / 0.004).toBeGreaterThan(0.95);
      expect((propagate(model, mean!).u * Math.sqrt(5)) / 0.004).toBeLessThan(1.25);
    }
    expect(weightCovariance[2]![0]! / weightCovariance[0]![0]!).toBeGreaterThan(0.6);
    expect(weightCovariance[2]![0]! / weightCovariance[0]![0]!).toBeLessThan(1.2);
    expect(dof).toBeGreaterThan(3.5);
    expect(dof).toBeLessThan(12);
    // taken for relative, the small readings would stand out
    const bare = new Model();
    const without = addRepeats(
      bare,
      "s",
      conditionsIn(bare, { large: rows(10), middle: rows(5), small: rows(1) }),
      "relative",
    );
    expect(without.wild.map(({ condition }) => condition)).toContain("small");
  });

  it("TYPEA-3: rates of background are pooled as they stand", () => {
    const model = new Model();
    const { means } = addRepeats(model, "background", conditionsIn(model, TWO), "absolute");
    // Σ of squares: little 0.02 in blue; much 2·0.4² = 0.32
    expect(covarianceOf(model, means[0]!)[0]).toBeCloseTo((0.02 + 0.32) / 3 / 3, 14);
    expect(covarianceOf(model, means[1]!)[0]).toBeCloseTo((0.02 + 0.32) / 3 / 2, 14);
  });

  it("TYPEA-3: so is a series with a mean that is not positive: relative to it nothing has a size", () => {
    const model = new Model();
    const conditions = conditionsIn(model, {
      zero: [
        [0.1, 1],
        [-0.1, 1],
      ],
      some: [
        [2.1, 1],
        [1.9, 1],
      ],
    });
    const { means } = addRepeats(model, "calibration", conditions, "relative");
    expect(covarianceOf(model, means[0]!)[0]).toBeCloseTo(0.02 / 2, 14);
    expect(covarianceOf(model, means[1]!)[0]).toBeCloseTo(0.02 / 2, 14);
  });

  it("TYPEA-5: without repeats the scatter is unknown, which is not the same as none", () => {
    const model = new Model();
    const { means, dof, weightCovariance } = addRepeats(
      model,
      "separation",
      conditionsIn(model, { little: [[10, 5]], much: [[20, 40]] }),
      "relative",
    );
    expect(dof).toBeUndefined();
    const { u, typeAUnknown, dof: own, k, U } = propagate(model, means[0]![0]!);
    expect({ u, typeAUnknown, own, k, U }).toEqual({
      u: 0,
      typeAUnknown: true,
      own: Number.NaN,
      k: Number.NaN,
      U: Number.NaN,
    });
    expect([...weightCovariance[0]!]).toEqual([0, 0, 0, 0]);
  });

  const quiet = [-1, 0, 1, 0.5].map((d) => [10 * (1 + 0.001 * d), 5 * (1 - 0.001 * d)]);
  const loud = [-1, 0, 1, 0.5].map((d) => [20 * (1 + 0.05 * d), 5 * (1 - 0.001 * d)]);
  const withWild = { one: quiet, two: quiet.map((row) => row.map((x) => 2 * x)), three: quiet, wild: loud };

  it("TYPEA-4: a wild condition keeps its own covariance and degrees of freedom", () => {
    const model = new Model();
    const { means, wild, dof } = addRepeats(model, "separation", conditionsIn(model, withWild), "relative");
    expect(wild.map(({ condition }) => condition)).toEqual(["wild"]);
    expect(wild[0]!.p).toBeLessThan(0.01);
    expect(dof).toBe(9);
    // −1 0 1 0.5 have mean 0.125 and Σd² = 2.1875
    const mean = 20 * (1 + 0.05 * 0.125);
    expect(propagate(model, means[3]![0]!).u).toBeCloseTo(Math.sqrt((2.1875 / 3 / 4) * 400) * 0.05, 12);
    expect(propagate(model, means[3]![0]!).dof).toBeCloseTo(3, 12);
    expect(propagate(model, means[3]![0]!).value).toBeCloseTo(mean, 12);
  });

  it("TYPEA-4: the others are pooled without it, and its weight is that of the others", () => {
    const model = new Model();
    const { means, weightCovariance } = addRepeats(model, "s", conditionsIn(model, withWild), "relative");
    const alone = new Model();
    const { wild: _, ...calm } = withWild;
    const without = addRepeats(alone, "s", conditionsIn(alone, calm), "relative");
    expect(propagate(model, means[0]![0]!)).toMatchObject({
      u: propagate(alone, without.means[0]![0]!).u,
      dof: 9,
    });
    const relative = weightCovariance[0]![0]! / (10 * (1 + 0.001 * 0.125)) / (10 * (1 + 0.001 * 0.125));
    const mean = 20 * (1 + 0.05 * 0.125);
    expect(weightCovariance[3]![0]).toBeCloseTo(relative * mean * mean, 14);
  });

  it("TYPEA-4: only the columns that are asked for are looked at", () => {
    const model = new Model();
    const swapped = Object.fromEntries(
      Object.entries(withWild).map(([name, rows]) => [name, rows.map(([a, b]) => [b!, a!])]),
    );
    expect(addRepeats(model, "s", conditionsIn(model, swapped), "relative", 1).wild).toEqual([]);
  });

  it("TYPEA-4: one flickering digit among repeats that show none is nothing wild", () => {
    const model = new Model();
    const still = [1, 2, 3, 4].map(() => [10, 5]);
    const conditions = conditionsIn(model, { one: still, two: still, three: [...still.slice(1), [10.001, 5]] });
    const { wild } = addRepeats(
      model,
      "s",
      conditions.map((condition) => ({ ...condition, displayVariance: [1e-6 / 12, 1e-6 / 12] })),
      "relative",
    );
    expect(wild).toEqual([]);
  });

  it("TYPEA-2: whatever the channels share drops out of their ratio, to the last of it", () => {
    const share = fc.array(fc.double({ min: -0.02, max: 0.02, noNaN: true }), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(share, fc.double({ min: 0.1, max: 50, noNaN: true }), (fluctuation, other) => {
        const model = new Model();
        const rows = fluctuation.map((f) => [7 * (1 + f), other * (1 + f)]);
        const { means } = addRepeats(model, "s", conditionsIn(model, { a: rows }), "relative");
        const ratio = propagate(model, means[0]![0]!.over(means[0]![1]!));
        // the covariance is a difference of nearly equal numbers, so that half of the digits of u are lost
        expect(ratio.u / ratio.value).toBeLessThan(1e-9);
      }),
    );
  });
});
