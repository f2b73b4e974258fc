import { describe, expect, it } from "vitest";
import { compare } from "./comparison.ts";
import { mean } from "./mapped-mean.ts";
import { Model } from "./model.ts";
import { Program } from "./program.ts";
import { budget, propagate } from "./propagation.ts";
import { secondOrder } from "./second-order.ts";
import { restore, type StoredModel, store } from "./serialisation.ts";
import { SPECIMEN, specimen } from "./testing/specimen.ts";
import { trace } from "./trace.ts";
import { ONE, Unit } from "./unit.ts";

const throughJson = (model: Model): StoredModel => JSON.parse(JSON.stringify(store(model))) as StoredModel;

/** The specimen, and what came back of it. */
function roundTrip() {
  const original = specimen();
  const model = restore(throughJson(original.model));
  return { original, model, of: (key: string) => model.tape.find(key)! };
}

const KEYS = ["stem-ratio", "light.c1", "relative-light", "factor", "result"];

describe("a stored model", () => {
  it("STORE-1: it evaluates to the same bits when it comes back from JSON", () => {
    const { original, model } = roundTrip();
    expect(model.values.length).toBe(original.model.values.length);
    model.values.forEach((value, node) => {
      expect(value).toBe(original.model.values[node]);
    });
    model.states.forEach(({ jacobian }, i) => {
      expect([...jacobian]).toEqual([...original.model.states[i]!.jacobian]);
    });
  });

  it("STORE-1: uncertainty, budget, second order and trace are the same to the last bit", () => {
    const { original, model, of } = roundTrip();
    for (const key of KEYS) {
      const [here, there] = [of(key), original.model.tape.find(key)!];
      const [a, b] = [propagate(model, here), propagate(original.model, there)];
      expect([a.u, a.dof, a.k, a.U]).toEqual([b.u, b.dof, b.k, b.U]);
      expect(budget(a)).toEqual(budget(b));
      expect(secondOrder(model, here)).toEqual(secondOrder(original.model, there));
      expect(trace(model, here)).toEqual(trace(original.model, there));
    }
  });

  it("STORE-1: it can be compared with the model that it was stored from, or with a later one", () => {
    const { original, model, of } = roundTrip();
    const same = compare(original.model, original.result, model, of("result"));
    expect(same).toMatchObject({ change: 0, attributions: [], remainder: 0 });
    const later = specimen({ signal_1: SPECIMEN.signal_1.map((value, i) => (i === 3 ? 6.6 : value)) });
    const { attributions } = compare(model, of("result"), later.model, later.result);
    expect(attributions.map(({ input }) => input)).toEqual(["separation/r4"]);
  });

  it("STORE-1: stored again it is the same document", () => {
    const { original, model } = roundTrip();
    expect(JSON.stringify(store(model))).toBe(JSON.stringify(store(original.model)));
  });

  it("STORE-1: names given late are stored in the order of the nodes", () => {
    const model = new Model();
    const x = model.constant({ key: "x", symbol: "x", label: "x", unit: ONE, value: 2 });
    const square = x.times(x);
    square.plus(1).named("late", "l", "late");
    square.named("later", "s", "later");
    const stored = store(model);
    expect(stored.tape.names.map(([, key]) => key)).toEqual(["x", "later", "late"]);
    expect(store(restore(throughJson(model)))).toEqual(stored);
  });

  it("STORE-2: a column knows what it was worked out from when it comes back", () => {
    const model = new Model();
    const column = { series: "s", name: "m", symbol: "m", unit: ONE, readings: ["a"], values: [1] };
    model.column({ ...column, derivedFrom: "background" });
    model.column({ ...column, name: "n" });
    expect(restore(throughJson(model)).columns).toEqual(model.columns);
  });

  it("STORE-2: names and units of every node come back", () => {
    const { original, model } = roundTrip();
    expect(new Map([...model.tape.names].sort(([a], [b]) => a - b))).toEqual(original.model.tape.names);
    expect(model.tape.units).toEqual(original.model.tape.units);
    // the same objects, so that a restored node can go on to be used in formulas
    model.tape.units.forEach((unit, node) => {
      expect(unit).toBe(original.model.tape.units[node]);
    });
  });

  it("STORE-2: blocks, constants and columns come back with all that is known of them", () => {
    const { original, model } = roundTrip();
    expect(model.blocks).toEqual(original.model.blocks);
    expect(model.constants).toEqual(original.model.constants);
    expect(model.columns.map(({ values, ...rest }) => ({ ...rest, values: [...Array.from(values)] }))).toEqual(
      original.model.columns.map(({ values, ...rest }) => ({ ...rest, values: [...Array.from(values)] })),
    );
    expect(model.blocks.map(({ dof }) => dof)).toContain(Number.POSITIVE_INFINITY);
    expect(model.blocks.map(({ distribution }) => distribution)).toContain("rectangular");
  });

  it("STORE-2: an input that is neither estimate nor constant keeps its value and its name", () => {
    const model = new Model();
    const named = model.tape.input(5, Unit.parse("Gy")).named("dose", "D", "dose");
    const bare = model.tape.input(7, ONE);
    named.times(bare).named("result", "R", "result");
    const back = restore(throughJson(model));
    expect(back.tape.find("dose")).toMatchObject({ value: 5, index: 0 });
    expect(back.tape.find("dose")!.unit).toBe(named.unit);
    expect(back.tape.find("result")!.value).toBe(35);
    expect(back.tape.names.size).toBe(2);
    expect(back.constants.size + back.blocks.length).toBe(0);
  });

  it("STORE-2: an unknown variance and a group without degrees of freedom come back as such", () => {
    const model = new Model();
    const unknown = { symbol: "δ", label: "δ", type: "A", unit: ONE, value: 0, u: 0, unknown: true, dof: 0 } as const;
    model.estimate({ key: "a", group: "repeats", ...unknown });
    model.estimate({ key: "b", group: "repeats", ...unknown });
    const back = restore(throughJson(model));
    expect(back.blocks).toEqual(model.blocks);
    expect(propagate(back, back.tape.find("b")!).typeAUnknown).toBe(true);
  });

  it("STORE-3: a cell without a number stands as null, and comes back as none", () => {
    expect(store(specimen().model).columns[1]!.values[5]).toBeNull();
    const stored = throughJson(specimen().model);
    expect(stored.columns[1]!.values[5]).toBeNull();
    expect(stored.columns[1]!.values[4]).toBe(9.52);
    expect(restore(stored).columns[1]!.values[5]).toBeNaN();
  });

  it("STORE-3: an input or a literal without a number comes back as none too", () => {
    const model = new Model();
    const x = model.constant({ key: "x", symbol: "x", label: "x", unit: ONE, value: Number.NaN });
    x.times(Number.NaN).named("y", "y", "y");
    const back = restore(throughJson(model));
    expect([...back.values]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(back.tape.find("y")!.index).toBe(2);
  });

  it("STORE-3: an infinite number is refused when it is stored: as null it would come back as something else", () => {
    const model = new Model();
    model.constant({ key: "x", symbol: "x", label: "x", unit: ONE, value: Number.POSITIVE_INFINITY });
    expect(() => store(model)).toThrow(new RangeError("Infinity cannot be stored in a model"));
    const columns = new Model();
    columns.column({ series: "s", name: "m", symbol: "m", unit: ONE, readings: ["a"], values: [-Infinity] });
    expect(() => store(columns)).toThrow(RangeError);
  });

  it("STORE-4: another version is refused, and so is a kernel that this one does not have", () => {
    const stored = throughJson(specimen().model);
    const later = { ...stored, version: 2 } as unknown as StoredModel;
    expect(() => restore(later)).toThrow(
      new RangeError("a stored model of version 2 cannot be read: this one reads 1"),
    );
    const calls = stored.calls.map((call) => ({ ...call, kind: "spline" }));
    expect(() => restore({ ...stored, calls })).toThrow(
      new RangeError('the stored model needs a kernel "spline", which this version lacks'),
    );
  });

  it("STORE-5: a program that several means share is stored once, and shared again", () => {
    const stored = throughJson(specimen().model);
    // the means' and the equation's
    expect(stored.programs.length).toBe(2);
    expect(stored.calls.filter(({ kind }) => kind === "mapped-mean").length).toBe(3);
    const programs = restore(stored).calls.flatMap(({ kernel, spec }) =>
      kernel.kind === "mapped-mean" ? [(spec as { program: Program }).program] : [],
    );
    expect(new Set(programs).size).toBe(1);
    expect(programs[0]!.units.map(({ symbol }) => symbol)).toEqual(["nC", "nC"]);
  });

  it("STORE-5: a program of scalars alone, and one with literals and names inside, come back", () => {
    const model = new Model();
    const x = model.constant({ key: "x", symbol: "x", label: "x", unit: ONE, value: 3 });
    const readings = ["a", "b"];
    const included = model.column({ series: "s", name: "w", symbol: "w", unit: ONE, readings, values: [1, 1] });
    const program = new Program([], [{ symbol: "y", unit: ONE }], (_, [y]) => [
      y!.times(0.1).named("tenth", "y/10", "a tenth").plus(2),
    ]);
    mean(model, { program, columns: [], rows: [0, 1], included }, [x]).means[0]!.named("m", "m", "m");
    const back = restore(throughJson(model));
    expect(back.tape.find("m")!.value).toBe(3 * 0.1 + 2);
    const inside = (back.calls[0]!.spec as { program: Program }).program;
    expect(inside.tape.find("tenth")).toBeDefined();
    expect(inside.scalars).toEqual(program.scalars);
  });

  it("STORE-1: readings do not multiply what is stored: twice the rows, less than twice the document", () => {
    const size = (rows: number) => {
      const model = new Model();
      const readings = Array.from({ length: rows }, (_, i) => `r${i}`);
      const column = (name: string, value: number) =>
        model.column({ series: "s", name, symbol: name, unit: ONE, readings, values: readings.map(() => value) });
      const program = new Program([{ symbol: "M", unit: ONE }], [], ([m]) => [m!.exponential()]);
      mean(
        model,
        { program, columns: [column("m", 1)], rows: readings.map((_, i) => i), included: column("w", 1) },
        [],
      );
      return { nodes: model.tape.length, bytes: JSON.stringify(store(model)).length };
    };
    expect(size(1000).nodes).toBe(size(100).nodes);
    expect(size(1000).bytes).toBeLessThan(2 * size(500).bytes + 1000);
  });
});
