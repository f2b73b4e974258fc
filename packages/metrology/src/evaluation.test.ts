import { describe, expect, it } from "vitest";
import { evaluateAt } from "./evaluation.ts";
import { Operation } from "./operations.ts";
import { SPECIMEN, specimen } from "./testing/specimen.ts";

describe("the evaluation at other inputs", () => {
  it("MODEL-9: with no changes it gives the bits that stood there when the model was written", () => {
    const { model } = specimen();
    const again = evaluateAt(model, new Map());
    expect(Array.from(again.values)).toEqual([...model.values]);
    expect(again.values.length).toBe(model.tape.length);
    again.states.forEach(({ outputs, jacobian }, i) => {
      expect([...outputs]).toEqual([...model.states[i]!.outputs]);
      expect([...jacobian]).toEqual([...model.states[i]!.jacobian]);
    });
  });

  it("MODEL-9: the specimen uses every operation and every kernel, or the tests that look at it prove little", () => {
    const { model } = specimen();
    expect([...new Set(model.tape.operations)].sort((a, b) => a - b)).toEqual(Object.values(Operation));
    expect([...new Set(model.calls.map(({ kernel }) => kernel.kind))]).toEqual([
      "mapped-mean",
      "structural-fit",
      "implicit-root",
    ]);
    expect(model.values.every(Number.isFinite)).toBe(true);
  });

  it("MODEL-9: a changed leaf gives the bits of a model that was written with the other value", () => {
    const { model } = specimen();
    const value = -3e-4;
    const other = specimen({ temperatureCoefficient: value }).model;
    const { index } = model.tape.find("temperature-coefficient")!;
    const changed = evaluateAt(model, new Map([[index, value]]));
    expect(Array.from(changed.values)).toEqual([...other.values]);
    expect(changed.values[model.tape.length - 1]).not.toBe(model.values.at(-1));
  });

  it("MODEL-9: the model itself stays at its estimates", () => {
    const { model, result } = specimen();
    const before = [...model.values];
    evaluateAt(model, new Map([[model.tape.find("temperature")!.index, 5]]));
    expect([...model.values]).toEqual(before);
    expect(model.values[result.index]).toBe(specimen(SPECIMEN).result.value);
  });

  it("MODEL-9: what is computed cannot be set, nor what is not there", () => {
    const { model, result } = specimen();
    expect(() => evaluateAt(model, new Map([[result.index, 1]]))).toThrow(RangeError);
    expect(() => evaluateAt(model, new Map([[model.tape.length, 1]]))).toThrow("is not an input");
    const literal = model.tape.operations.indexOf(Operation.literal);
    expect(() => evaluateAt(model, new Map([[literal, 1]]))).toThrow(RangeError);
  });
});
