import { describe, expect, it } from "vitest";
import { compare } from "./comparison.ts";
import { evaluateAt } from "./evaluation.ts";
import { mean } from "./mapped-mean.ts";
import { Model } from "./model.ts";
import { Program } from "./program.ts";
import { SPECIMEN, type SpecimenData, specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

/** The specimen beside itself with changes. */
function beside(changes: Partial<SpecimenData>, from: Partial<SpecimenData> = {}) {
  const [before, after] = [specimen(from), specimen({ ...from, ...changes })];
  return compare(before.model, before.result, after.model, after.result);
}

const put = (values: readonly number[], row: number, value: number) =>
  values.map((own, i) => (i === row ? value : own));
const signal = (row: number, by: number) => ({
  signal_1: put(SPECIMEN.signal_1, row, SPECIMEN.signal_1[row]! + by),
});

/** The mean of readings by id, in a model of its own; a weight of zero leaves one out. */
function meanOf(
  readings: Readonly<Record<string, number>>,
  weights: Readonly<Record<string, number>> = {},
  series = "s",
) {
  const model = new Model();
  const ids = Object.keys(readings);
  const column = (name: string, values: readonly number[]) =>
    model.column({ series, name, symbol: name, unit: ONE, readings: ids, values });
  const m = column("m", Object.values(readings));
  const included = column(
    "included",
    ids.map((id) => weights[id] ?? 1),
  );
  const program = new Program([{ symbol: "M", unit: ONE }], [], ([x]) => [x!]);
  const spec = { program, columns: [m], rows: ids.map((_, i) => i), included };
  return { model, result: mean(model, spec, []).means[0]! };
}

describe("the comparison", () => {
  it("COMP-1: one changed reading gets the whole change, and what is left over is of third order", () => {
    const remainders = [0.4, 0.2, 0.1].map((by) => {
      const { change, attributions, remainder, before, after } = beside(signal(2, by));
      expect(change).toBe(after - before);
      expect(attributions.length).toBe(1);
      expect(attributions[0]).toMatchObject({ input: "separation/r3", columns: ["signal_1"] });
      expect(Math.abs(remainder)).toBeLessThan(0.01 * Math.abs(change));
      expect(attributions[0]!.change + remainder).toBeCloseTo(change, 15);
      return remainder;
    });
    // half the change, an eighth of the remainder
    for (const i of [0, 1]) {
      expect(remainders[i]! / remainders[i + 1]!).toBeGreaterThan(7);
      expect(remainders[i]! / remainders[i + 1]!).toBeLessThan(9);
    }
  });

  it("COMP-1: nothing changed, nothing attributed", () => {
    const { change, attributions, remainder } = beside({});
    expect({ change, attributions, remainder }).toEqual({ change: 0, attributions: [], remainder: 0 });
  });

  it("COMP-1: several changes stand beside each other, the largest first, and with the remainder add up", () => {
    const { change, attributions, remainder } = beside({
      signal_1: put(put(SPECIMEN.signal_1, 0, 6.7), 8, 17.03),
      duration: put(SPECIMEN.duration, 0, 31),
      temperatureCoefficient: -8e-4,
    });
    expect(attributions.map(({ input, columns }) => [input, columns])).toEqual([
      ["separation/r1", ["signal_1", "duration_s"]],
      ["separation/r9", ["signal_1"]],
      ["temperature-coefficient", undefined],
    ]);
    const sizes = attributions.map((one) => Math.abs(one.change));
    expect([...sizes].sort((a, b) => b - a)).toEqual(sizes);
    expect(attributions.reduce((total, one) => total + one.change, remainder)).toBeCloseTo(change, 14);
    expect(Math.abs(remainder)).toBeLessThan(0.01 * Math.abs(change));
  });

  it("COMP-1: the largest change stands first, wherever its reading stands", () => {
    const by = (first: number, second: number) => {
      const [before, after] = [meanOf({ a: 1, b: 2 }), meanOf({ a: 1 + first, b: 2 + second })];
      return compare(before.model, before.result, after.model, after.result).attributions.map(({ input }) => input);
    };
    expect(by(1, -3)).toEqual(["s/b", "s/a"]);
    expect(by(-3, 1)).toEqual(["s/a", "s/b"]);
  });

  it("COMP-2: a changed estimate is shown with both of its values", () => {
    const { change, attributions } = beside({ temperatureCoefficient: -4e-4 });
    expect(attributions).toMatchObject([{ input: "temperature-coefficient", before: -9e-4, after: -4e-4 }]);
    expect(attributions[0]).not.toHaveProperty("columns");
    expect(attributions[0]!.change).toBeCloseTo(change, 7);
    expect(change).not.toBe(0);
  });

  it("COMP-2: so it is between two evaluations of one model", () => {
    const { model, result } = specimen();
    const at = evaluateAt(model, new Map([[model.tape.find("temperature")!.index, 2.5]]));
    const { attributions, after } = compare(model, result, at, result);
    expect(attributions).toMatchObject([{ input: "temperature", before: 1.5, after: 2.5 }]);
    expect(after).toBe(at.values[result.index]);
  });

  it("COMP-3: a reading that is left out is a change of its weight, and put back the same change with the other sign", () => {
    const out = { included: put(SPECIMEN.included, 2, 0) };
    const there = beside(out);
    expect(there.attributions).toMatchObject([{ input: "separation/r3", columns: ["included"] }]);
    expect(there.attributions[0]!.change).not.toBe(0);
    expect(Math.abs(there.remainder)).toBeLessThan(0.05 * Math.abs(there.change));
    const back = beside({ included: SPECIMEN.included }, out);
    expect(back.attributions[0]!.change).toBeCloseTo(-there.attributions[0]!.change, 15);
    expect(back.change).toBe(-there.change);
  });

  it("COMP-3: in a mean the part of a reading that is left out is exact, whatever the number of readings", () => {
    for (const others of [[1], [1, 2], [1, 2, 4, 4.5]]) {
      const readings = Object.fromEntries([...others, 7].map((value, i) => [`r${i}`, value]));
      const [all, without] = [meanOf(readings), meanOf(readings, { [`r${others.length}`]: 0 })];
      const { attributions, remainder, change } = compare(all.model, all.result, without.model, without.result);
      expect(attributions).toMatchObject([{ input: `s/r${others.length}`, columns: ["included"] }]);
      expect(attributions[0]!.change).toBeCloseTo(change, 14);
      expect(remainder).toBeCloseTo(0, 14);
    }
  });

  it("COMP-3: a reading on the mean of the others can be left out without any change", () => {
    const readings = { a: 1, b: 3, c: 2 };
    const [all, without] = [meanOf(readings), meanOf(readings, { c: 0 })];
    const { change, attributions } = compare(all.model, all.result, without.model, without.result);
    expect(change).toBe(0);
    expect(attributions).toEqual([{ input: "s/c", columns: ["included"], change: 0 }]);
  });

  it("COMP-3: a reading that held no number and is put back with one gets what its weight does", () => {
    const { attributions, remainder, change } = beside({
      included: put(SPECIMEN.included, 5, 1),
      signal_1: put(SPECIMEN.signal_1, 5, 11.05),
      signal_2: put(SPECIMEN.signal_2, 5, 9.5),
      duration: put(SPECIMEN.duration, 5, 30),
    });
    expect(attributions.map(({ input }) => input)).toEqual(["separation/r6"]);
    expect(attributions[0]!.columns).toContain("included");
    expect(attributions[0]!.change + remainder).toBeCloseTo(change, 15);
    expect(Number.isFinite(attributions[0]!.change)).toBe(true);
  });

  it("COMP-3: where a cell held no number the derivative of the other side has to do, in full", () => {
    const [without, all] = [meanOf({ a: 1, b: 2, c: Number.NaN }, { c: 0 }), meanOf({ a: 1, b: 2, c: 6 })];
    const { attributions } = compare(without.model, without.result, all.model, all.result);
    // (6 − 3)/3: by the mean of three, 1.5 by the mean of two that holds no number for it
    expect(attributions).toEqual([{ input: "s/c", columns: ["m", "included"], change: 1 }]);
  });

  it("COMP-3: a reading that is left out on both sides changes nothing, whatever it holds", () => {
    const { change, attributions } = beside({ signal_2: put(SPECIMEN.signal_2, 5, 40) });
    expect(change).toBe(0);
    expect(attributions.every((one) => one.change === 0)).toBe(true);
  });

  it("COMP-4: a reading on one side only gets what its weight does on the side where it stands", () => {
    const [four, three] = [meanOf({ a: 1, b: 2, c: 3, d: 6 }), meanOf({ a: 1, b: 2, c: 3 })];
    const gone = compare(four.model, four.result, three.model, three.result);
    // mean 3 of four readings: (6 − 3)/4 of weight
    expect(gone).toMatchObject({ before: 3, after: 2, change: -1 });
    expect(gone.attributions).toEqual([{ input: "s/d", columns: ["included"], change: -0.75 }]);
    expect(gone.remainder).toBeCloseTo(-0.25, 15);
    const come = compare(three.model, three.result, four.model, four.result);
    expect(come.attributions).toEqual([{ input: "s/d", columns: ["included"], change: 0.75 }]);
  });

  it("COMP-4: a reading on one side only that is left out there did nothing", () => {
    const [before, after] = [meanOf({ a: 1, b: 2 }), meanOf({ a: 1, b: 2, c: 50 }, { c: 0 })];
    const { change, attributions } = compare(before.model, before.result, after.model, after.result);
    expect({ change, attributions }).toEqual({ change: 0, attributions: [] });
  });

  it("COMP-4: readings are matched by name, not by where they stand", () => {
    const [before, after] = [meanOf({ a: 1, b: 2, c: 4 }), meanOf({ c: 4, a: 1.5, b: 2 })];
    const { attributions } = compare(before.model, before.result, after.model, after.result);
    expect(attributions).toMatchObject([{ input: "s/a", columns: ["m"] }]);
    expect(attributions[0]!.change).toBeCloseTo(0.5 / 3, 15);
  });

  it("COMP-5: weights that were estimated from the readings change with the one that changed", () => {
    const { attributions, remainder, change } = beside({ ...signal(0, 0.2), weight: 5e-6 });
    expect(attributions.map(({ input, columns }) => [input, columns])).toEqual([["separation/r1", ["signal_1"]]]);
    const alone = beside(signal(0, 0.2)).attributions[0]!.change;
    expect(attributions[0]!.change).not.toBe(alone);
    expect(attributions[0]!.change + remainder).toBeCloseTo(change, 15);
    expect(Math.abs(remainder)).toBeLessThan(0.01 * Math.abs(change));
  });

  it("COMP-5: where several readings of the series changed the weights are shown as the series'", () => {
    const { attributions } = beside({
      signal_1: put(put(SPECIMEN.signal_1, 0, 6.7), 1, 6.6),
      weight: 5e-6,
    });
    expect(attributions.map(({ input }) => input).sort()).toEqual([
      "separation/r1",
      "separation/r2",
      "separation/weights",
    ]);
  });

  it("COMP-5: where another input changed and no reading did, they are the other input's", () => {
    const { attributions } = beside({ temperatureCoefficient: -4e-4, weight: 5e-6 });
    expect(attributions.map(({ input }) => input)).toEqual(["temperature-coefficient"]);
    expect(attributions[0]!.change).not.toBe(beside({ temperatureCoefficient: -4e-4 }).attributions[0]!.change);
  });

  it("COMP-5: a column that was worked out from another series changes with that series' reading", () => {
    // how much a background counts for each reading, worked out from the backgrounds' times
    const of = (background: number, share: number, own = 5) => {
      const model = new Model();
      const column = (
        series: string,
        name: string,
        readings: readonly string[],
        values: readonly number[],
        derivedFrom?: string,
      ) =>
        model.column({ series, name, symbol: name, unit: ONE, readings, values, ...(derivedFrom && { derivedFrom }) });
      const spec = (columns: readonly number[], included: number, rows: readonly number[]) => ({
        columns,
        included,
        rows,
      });
      const b = column("background", "m", ["b1"], [background]);
      const counts = column("background", "included", ["b1"], [1]);
      const m = column("fields", "m", ["f1", "f2"], [own, 6]);
      const shares = column("fields", "share", ["f1", "f2"], [share, share], "background");
      const included = column("fields", "included", ["f1", "f2"], [1, 1]);
      const slot = (symbol: string) => ({ symbol, unit: ONE });
      const first = new Program([slot("b")], [], ([x]) => [x!]);
      const second = new Program([slot("M"), slot("s")], [slot("b")], ([x, s], [y]) => [x!.minus(s!.times(y!))]);
      const level = mean(model, { program: first, ...spec([b], counts, [0]) }, []).means[0]!;
      return {
        model,
        result: mean(model, { program: second, ...spec([m, shares], included, [0, 1]) }, [level]).means[0]!,
      };
    };
    const against = (after: ReturnType<typeof of>) => {
      const before = of(2, 0.5);
      const { attributions, change, remainder } = compare(before.model, before.result, after.model, after.result);
      expect(attributions.reduce((total, one) => total + one.change, remainder)).toBeCloseTo(change, 14);
      return attributions.map(({ input, change: part }) => [input, part]);
    };
    // ½·Σ(M − s·b): by b −0.625, by each share −2.5/2·0.25 = −0.3125 or, where b stays, −0.25
    expect(against(of(3, 0.75))).toEqual([["background/b1", -1.25]]);
    // where the reading itself changed too (0.5/2), what stands in its own row is its own doing
    expect(against(of(3, 0.75, 5.5))).toEqual([
      ["background/b1", -0.9375],
      ["fields/f1", -0.0625],
    ]);
    // where no reading of that series changed they are the doing of the one that did
    expect(against(of(2, 0.75, 5.5))).toEqual([["fields/f1", -0.25]]);
    // and with nothing else that changed they stand where they are
    expect(against(of(2, 0.75))).toEqual([
      ["fields/f1", -0.25],
      ["fields/f2", -0.25],
    ]);
  });

  it("COMP-5: what was worked out and has no effect is not shown", () => {
    const of = (a: number, weight: number) => {
      const { model, result } = meanOf({ a, b: 2 });
      const constant = { key: "w", symbol: "w", label: "w", unit: ONE, value: weight, derivedFrom: "s" };
      return { model, result: result.plus(model.constant(constant).times(0)) };
    };
    const [before, after] = [of(1, 3), of(1, 4)];
    expect(compare(before.model, before.result, after.model, after.result).attributions).toEqual([]);
  });

  it("COMP-5: weights that changed with no reading stand under their own keys", () => {
    const { attributions } = beside({ weight: 5e-6 });
    expect(attributions.map(({ input }) => input).sort()).toEqual(
      [0, 1, 2].flatMap((i) => [`weight/c${i}/0`, `weight/c${i}/2`]),
    );
    expect(attributions.find(({ input }) => input === "weight/c0/0")).toMatchObject({ before: 8e-6, after: 1e-5 });
  });

  it("COMP-5: it is the series by its whole name that counts, whatever signs are in it", () => {
    const of = (a: number, weight: number) => {
      const { model, result } = meanOf({ a, b: 2 }, {}, "constancy/morning");
      const held = model.constant({
        key: "w",
        symbol: "w",
        label: "w",
        unit: ONE,
        value: weight,
        derivedFrom: "constancy/morning",
      });
      return { model, result: result.times(held) };
    };
    const [before, after] = [of(1, 1), of(1.5, 1.25)];
    const { attributions, remainder, change } = compare(before.model, before.result, after.model, after.result);
    expect(attributions.map(({ input }) => input)).toEqual(["constancy/morning/a"]);
    expect(attributions[0]!.change + remainder).toBeCloseTo(change, 15);
  });

  it("COMP-4: a cell that stands in two columns of the model is one leaf", () => {
    const of = (value: number) => {
      const { model, result } = meanOf({ a: value, b: 2 });
      const { columns } = model;
      const again = columns.map((column) => model.column(column));
      const program = new Program([{ symbol: "M", unit: ONE }], [], ([x]) => [x!.times(10)]);
      const spec = { program, columns: [again[0]!], rows: [0], included: again[1]! };
      return { model, result: result.plus(mean(model, spec, []).means[0]!) };
    };
    const [before, after] = [of(1), of(3)];
    const { attributions, change } = compare(before.model, before.result, after.model, after.result);
    expect(change).toBe(21);
    expect(attributions).toEqual([{ input: "s/a", columns: ["m"], change: 21 }]);
  });

  it("COMP-6: what stands on one side only, or another formula, is left to the remainder", () => {
    const of = (factor: number) => {
      const model = new Model();
      const x = model.estimate({ key: "x", symbol: "x", label: "x", type: "B", unit: ONE, value: 2, u: 0.1 });
      return { model, result: x.times(factor) };
    };
    const [before, after] = [of(3), of(4)];
    expect(compare(before.model, before.result, after.model, after.result)).toEqual({
      before: 6,
      after: 8,
      change: 2,
      attributions: [],
      remainder: 2,
    });
  });

  it("MODEL-4: each result belongs to the evaluation beside it", () => {
    const [a, b] = [meanOf({ a: 1 }), meanOf({ a: 2 })];
    expect(() => compare(a.model, b.result, b.model, b.result)).toThrow("another model");
    expect(() => compare(a.model, a.result, b.model, a.result)).toThrow("another model");
  });
});
