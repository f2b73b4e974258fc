import { budget, covarianceOf, Model, propagate, Unit } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addReference } from "./reference.ts";
import { normalStream } from "./testing/made-up-series.ts";

const NC = Unit.parse("nC");

/** A reference read at some times with those signals, each with an uncertainty of its own, and fields in between. */
function referenceOf(
  visits: readonly (readonly [time: number | undefined, signal: number, u?: number])[],
  fields: readonly (number | undefined)[],
) {
  const model = new Model();
  const nodes = visits.map(([time, value, u = 0], i) => ({
    time,
    count: 3,
    corrected: model.estimate({
      key: `visit-${i + 1}`,
      symbol: `S_${i + 1}`,
      label: "visit",
      type: "A",
      dof: 50,
      unit: NC,
      value,
      u,
    }),
  }));
  const named = fields.map((time, i) => ({ name: `field-${i + 1}`, time }));
  const found = addReference(model, nodes, named);
  return { ...found, model, uOf: (i: number) => propagate(model, found.at[i]!).u };
}

describe("the reference at the time of a field", () => {
  it("OF-3: is linear in time between the visits before and after", () => {
    const { at } = referenceOf(
      [
        [0, 4],
        [100, 4.2],
        [400, 4.5],
      ],
      [25, 100, 250, 399],
    );
    expect(at[0]!.value).toBeCloseTo(4.05, 14);
    expect(at[1]!.value).toBeCloseTo(4.2, 14);
    expect(at[2]!.value).toBeCloseTo(4.35, 14);
    expect(at[3]!.value).toBeCloseTo(4.5 - 0.001, 14);
    expect(at.every(({ unit }) => unit === NC)).toBe(true);
  });

  it("moves from its first visit as the visits do, and for each field as what it is divided by", () => {
    const { moves, fieldMoves, model } = referenceOf(
      [
        [0, 4, 0.01],
        [100, 4.2, 0.02],
      ],
      [50],
    );
    expect(moves.map(({ value }) => value)[0]).toBe(0);
    expect(moves[1]!.value).toBeCloseTo(0.05, 14);
    expect(fieldMoves[0]!.value).toBeCloseTo(0.025, 14);
    // the first visit against itself is certain; the second has the relative uncertainties of both
    expect(propagate(model, moves[0]!).u).toBe(0);
    expect(propagate(model, moves[1]!).u).toBeCloseTo(Math.hypot(0.02 / 4, (0.01 * 4.2) / 16), 12);
  });

  it("OF-3: outside the visits it is the nearest one", () => {
    const { at, uOf } = referenceOf(
      [
        [0, 4, 0.01],
        [100, 4.2, 0.02],
      ],
      [-50, 0, 100, 300],
    );
    expect(at.map(({ value }) => value)).toEqual([4, 4, 4.2, 4.2]);
    expect([0, 1, 2, 3].map(uOf)).toEqual([0.01, 0.01, 0.02, 0.02]);
  });

  it("OF-3: with a single visit it is that visit, with or without times", () => {
    for (const time of [undefined, 5]) {
      const { at, drift, wander, uOf } = referenceOf([[time, 4, 0.01]], [3, undefined]);
      expect(at.map(({ value }) => value)).toEqual([4, 4]);
      expect({ drift, wander }).toEqual({ drift: undefined, wander: 0 });
      expect(uOf(0)).toBe(0.01);
    }
  });

  it("OF-4: τ² is what the moves between visits exceed their own uncertainty by", () => {
    // moves +2 % and −1 %, each known to √2·0.5 % nearly: τ² = mean of (0.02² − u², 0.01² − u²)
    const { wander, model } = referenceOf(
      [
        [0, 4, 0.02],
        [100, 4.08, 0.02],
        [200, 4.0392, 0.02],
      ],
      [50],
    );
    const u1 = Math.hypot(0.02 / 4, (0.02 * 4.08) / 16);
    const u2 = Math.hypot(0.02 / 4.08, (0.02 * 4.0392) / 4.08 ** 2);
    expect(wander).toBeCloseTo(Math.sqrt((0.02 ** 2 - u1 ** 2 + 0.01 ** 2 - u2 ** 2) / 2), 10);
    expect(model.blocks.find(({ key }) => key === "output-factors/reference-gap-1")).toMatchObject({
      type: "A",
      dof: 2, // the number of gaps
      group: "output-factors/reference-wander",
    });
  });

  it("OF-4: it adds u² = w(1 − w)·τ², nothing at a visit itself", () => {
    const { uOf, wander, at } = referenceOf(
      [
        [0, 4],
        [100, 4.04],
      ],
      [0, 20, 50, 80, 100],
    );
    expect(wander).toBeCloseTo(0.01, 12);
    for (const [i, w] of [0, 0.2, 0.5, 0.8, 1].entries())
      expect(uOf(i) / at[i]!.value).toBeCloseTo(0.01 * Math.sqrt(w * (1 - w)), 10);
  });

  it("OF-4: moves that are within their uncertainty add nothing", () => {
    const { wander, model, at } = referenceOf(
      [
        [0, 4, 0.02],
        [100, 4.01, 0.02],
      ],
      [50],
    );
    expect(wander).toBe(0);
    expect(budget(propagate(model, at[0]!)).map(({ input }) => input)).toEqual(["visit-1", "visit-2"]);
    expect(propagate(model, at[0]!).u).toBeCloseTo(0.02 / Math.SQRT2, 12);
  });

  it("OF-4: two fields in one gap share the walk, in two gaps they do not (Brownian bridge)", () => {
    const { model, at } = referenceOf(
      [
        [0, 4],
        [100, 4.04],
        [200, 4],
      ],
      [20, 60, 150],
    );
    const relative = at.map((node) => node.over(node.value));
    const covariance = covarianceOf(model, relative);
    const tau2 = (0.01 ** 2 + (0.04 / 4.04) ** 2) / 2;
    expect(covariance[1]).toBeCloseTo(tau2 * 0.2 * (1 - 0.6), 10);
    expect(covariance[2]).toBeCloseTo(0, 15);
  });

  it("OF-4: that is how a random walk behaves between two of its points (simulated)", () => {
    const normal = normalStream(11);
    const squares = [0, 0, 0];
    const runs = 4000;
    for (let run = 0; run < runs; run++) {
      const walk = [0];
      for (let step = 0; step < 10; step++) walk.push(walk.at(-1)! + normal() / Math.sqrt(10));
      const off = (k: number) => walk[k]! - (k / 10) * walk[10]!;
      squares[0]! += off(2) ** 2;
      squares[1]! += off(5) ** 2;
      squares[2]! += off(2) * off(5);
    }
    expect(squares[0]! / runs).toBeCloseTo(0.2 * 0.8, 1.5);
    expect(squares[1]! / runs).toBeCloseTo(0.25, 1.5);
    expect(squares[2]! / runs).toBeCloseTo(0.2 * 0.5, 1.5);
  });

  it("OF-5: without times it is the mean of the visits, in every field alike", () => {
    const { at } = referenceOf(
      [
        [undefined, 4],
        [undefined, 4.4],
        [undefined, 4.2],
      ],
      [undefined, 7],
    );
    expect(at[0]!.value).toBeCloseTo(4.2, 14);
    expect(at[1]!.value).toBe(at[0]!.value);
  });

  it("OF-5: a single field without a time is enough to have no times", () => {
    const { at } = referenceOf(
      [
        [0, 4],
        [100, 4.4],
      ],
      [0, undefined],
    );
    expect(at.map(({ value }) => value)).toEqual([4.2, 4.2]);
  });

  it("OF-5: u is the larger of the scatter within the visits and between them", () => {
    const visits = (u: number) => [3.98, 4, 4.02].map((signal): [undefined, number, number] => [undefined, signal, u]);
    // between: sd 0.02 over √3; within: u over √3
    for (const u of [0.05, 0.03, 0.021])
      expect(referenceOf(visits(u), [undefined]).uOf(0)).toBeCloseTo(u / Math.sqrt(3), 5);
    for (const u of [0.019, 0.01, 0])
      expect(referenceOf(visits(u), [undefined]).uOf(0)).toBeCloseTo(0.02 / Math.sqrt(3), 5);
    const { model, wander } = referenceOf(visits(0), [undefined]);
    expect(wander).toBeCloseTo(0.02 / 4, 8);
    expect(model.blocks.at(-1)).toMatchObject({ key: "output-factors/reference-scatter", dof: 2, type: "A" });
  });

  it("OF-6: the drift is the largest move over the series, with its uncertainty", () => {
    const { drift, model } = referenceOf(
      [
        [0, 4.1, 0.01],
        [100, 4, 0.01],
        [200, 4.2, 0.01],
      ],
      [50],
    );
    expect(drift!.value).toBeCloseTo(0.05, 14);
    expect(propagate(model, drift!).u).toBeCloseTo(Math.hypot(0.01 / 4, (0.01 * 4.2) / 16), 12);
    expect(drift!.unit.symbol).toBe("1");
  });

  it("OF-6: visits that agree to the last digit have moved by nothing", () => {
    const { drift, model } = referenceOf(
      [
        [0, 4, 0.01],
        [100, 4, 0.01],
      ],
      [50],
    );
    expect(drift!.value).toBe(0);
    expect(propagate(model, drift!).u).toBe(0);
  });

  it("OF-4: a reference without any signal has no wander, and throws nothing: others refuse it", () => {
    for (const time of [undefined, 1]) {
      const visits = [0, 100].map((at): [number | undefined, number, number] => [time && at, 0, 0.01]);
      expect(referenceOf(visits, [time && 50]).wander).toBe(0);
    }
  });
});
