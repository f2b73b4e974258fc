import { describe, expect, it } from "vitest";
import type { Kernel, KernelState } from "./kernel.ts";
import { type Block, Model } from "./model.ts";
import { ONE, Unit } from "./unit.ts";

const MM = Unit.parse("mm");
const element = (name: string, value = 0) => ({ name, symbol: name, label: name, unit: MM, value });
const block = (changes: Partial<Block>): Block => ({
  key: "jaws",
  type: "B",
  covariance: [1, 0.5, 0.5, 4],
  elements: [element("x", 10), element("y", 20)],
  ...changes,
});
const refusal = (changes: Partial<Block>) => () => new Model().estimates(block(changes));

describe("the model's inputs", () => {
  it("MODEL-8: a block's elements are nodes with keys beneath the block's own", () => {
    const model = new Model();
    const [x, y] = model.estimates(block({}));
    expect([x!.value, y!.value]).toEqual([10, 20]);
    expect(model.tape.find("jaws/y")?.index).toBe(y!.index);
    expect(model.blocks[0]).toMatchObject({
      key: "jaws",
      first: x!.index,
      dof: Number.POSITIVE_INFINITY,
      group: "jaws",
      unknown: false,
      distribution: "normal",
    });
  });

  it("MODEL-8: one estimate is a block of one, with its variance the square of u", () => {
    const model = new Model();
    model.estimate({ key: "gap", symbol: "g", label: "gap", type: "A", unit: MM, value: 1, u: 0.3, dof: 4 });
    expect(model.blocks[0]).toMatchObject({ key: "gap", type: "A", dof: 4 });
    expect([...model.blocks[0]!.covariance]).toEqual([0.09]);
    expect(model.tape.find("gap")?.value).toBe(1);
  });

  it("MODEL-8: a constant knows the series that it was estimated from, if any", () => {
    const model = new Model();
    const exact = model.constant({ key: "pi", symbol: "π", label: "pi", unit: ONE, value: Math.PI });
    const held = model.constant({ key: "w", symbol: "w", label: "w", unit: ONE, value: 2, derivedFrom: "series" });
    expect(model.constants.get(exact.index)).toBeUndefined();
    expect(model.constants.has(exact.index)).toBe(true);
    expect(model.constants.get(held.index)).toBe("series");
  });

  it.each([
    ["no elements", { elements: [], covariance: [] }, "jaws: a block needs at least one element"],
    ["a covariance that does not fit", { covariance: [1, 0, 4] }, "jaws: 2 elements need a covariance of 2 × 2"],
    ["a negative variance", { covariance: [1, 0, 0, -4] }, "jaws: the variance of element 2 is -4"],
    ["a variance that is no number", { covariance: [Number.NaN, 0, 0, 4] }, "the variance of element 1 is NaN"],
    ["an infinite variance", { covariance: [1, 0, 0, Number.POSITIVE_INFINITY] }, "element 2 is Infinity"],
    ["an asymmetric covariance", { covariance: [1, 0.5, 0.4, 4] }, "jaws: asymmetric covariance"],
    ["a covariance that is no number", { covariance: [1, Number.NaN, Number.NaN, 4] }, "jaws: asymmetric covariance"],
    ["a correlation beyond one", { covariance: [1, 2.1, 2.1, 4] }, "elements 1 and 2 have a correlation beyond one"],
    ["a correlation below minus one", { covariance: [1, -2.1, -2.1, 4] }, "correlation beyond one"],
    ["a covariance without variance", { covariance: [0, 0.1, 0.1, 4] }, "correlation beyond one"],
    ["no degrees of freedom", { dof: 0 }, "jaws: 0 degrees of freedom"],
    ["negative degrees of freedom", { dof: -3 }, "jaws: -3 degrees of freedom"],
    ["degrees of freedom that are no number", { dof: Number.NaN, unknown: true }, "jaws: NaN degrees of freedom"],
    ["two elements of one name", { elements: [element("x"), element("x")] }, 'two nodes are called "jaws/x"'],
  ])("MODEL-8: a block with %s is refused, and the message says which", (_, changes, message) => {
    expect(refusal(changes)).toThrow(message);
  });

  it.each([
    ["a correlation of one, rounded in its tenth digit", { covariance: [1, 2.0000000001, 2.0000000001, 4] }],
    ["no variance at all", { covariance: [0, 0, 0, 0] }],
    ["no degrees of freedom where the variance is unknown", { dof: 0, unknown: true }],
  ])("MODEL-8: a block with %s is taken", (_, changes) => {
    expect(refusal(changes)).not.toThrow();
  });

  it("PROP-8: blocks of one group share their degrees of freedom; others are refused", () => {
    const model = new Model();
    model.estimates(block({ key: "a", group: "repeats", dof: 9 }));
    model.estimates(block({ key: "b", group: "repeats", dof: 9 }));
    expect(() => model.estimates(block({ key: "c", group: "repeats", dof: 8 }))).toThrow(
      new RangeError('c: the group "repeats" has 9 degrees of freedom, not 8'),
    );
    expect(() => model.estimates(block({ key: "d", group: "repeats" }))).toThrow("not Infinity");
    expect(() => model.estimates(block({ key: "repeats", dof: 8 }))).toThrow("has 9 degrees of freedom");
  });

  it("MODEL-4: a kernel takes nodes of its own model only", () => {
    const [here, there] = [new Model(), new Model()];
    const constant = (model: Model) => model.constant({ key: "x", symbol: "x", label: "x", unit: ONE, value: 3 });
    const double: Kernel<null, KernelState> = {
      kind: "double",
      evaluate: (_, inputs) => ({ outputs: inputs.map((x) => 2 * x), jacobian: Float64Array.of(2) }),
      formula: (_, __, [input]) => input!,
    };
    const [mine, foreign] = [constant(here), constant(there)];
    expect(here.call(double, null, [mine], [ONE]).outputs[0]!.value).toBe(6);
    expect(() => here.call(double, null, [foreign], [ONE])).toThrow("another model");
    expect(() => here.call(double, null, [mine], [ONE, ONE])).toThrow(new RangeError("double: 1 outputs, but 2 units"));
    expect(here.calls.length).toBe(1);
  });
});
