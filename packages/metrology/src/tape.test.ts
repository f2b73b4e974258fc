import { describe, expect, it } from "vitest";
import { Model } from "./model.ts";
import { Operation } from "./operations.ts";
import { propagate } from "./propagation.ts";
import { type Scalar, sum, Tape } from "./tape.ts";
import { ONE, Unit } from "./unit.ts";

const NC = Unit.parse("nC");
const PC = Unit.parse("pC");
const GY = Unit.parse("Gy");

function tape() {
  const own = new Tape();
  return { own, charge: own.input(6, NC), dose: own.input(1.5, GY), angle: own.input(0.5, ONE) };
}

describe("the tape", () => {
  it("MODEL-2: a sum or difference of unlike units is refused when it is written, and both units are named", () => {
    const { charge, dose, own } = tape();
    expect(() => charge.plus(dose)).toThrow(new TypeError("cannot add to a quantity in nC one in Gy"));
    expect(() => dose.minus(charge)).toThrow(new TypeError("cannot subtract from a quantity in Gy one in nC"));
    expect(() => charge.plus(own.input(6000, PC))).toThrow(TypeError);
    expect(() => sum([charge, dose])).toThrow(TypeError);
  });

  it("MODEL-2: a bare number is dimensionless: it cannot be added to a charge, and can multiply one", () => {
    const { charge, angle } = tape();
    expect(() => charge.plus(1)).toThrow(TypeError);
    expect(() => charge.minus(1)).toThrow(TypeError);
    expect(angle.plus(1).value).toBe(1.5);
    expect(charge.times(2).value).toBe(12);
    expect(charge.over(2).unit).toBe(NC);
  });

  it.each([
    ["exponential", (x: Scalar) => x.exponential()],
    ["logarithm", (x: Scalar) => x.logarithm()],
    ["sine", (x: Scalar) => x.sine()],
    ["cosine", (x: Scalar) => x.cosine()],
    ["error function", (x: Scalar) => x.errorFunction()],
  ])("MODEL-2: the %s of a charge is refused, of a pure number it is one", (name, write) => {
    const { charge, angle } = tape();
    expect(() => write(charge)).toThrow(new TypeError(`the ${name} of a quantity in nC has no meaning`));
    expect(write(angle).unit).toBe(ONE);
  });

  it("MODEL-3: products, quotients, roots and powers carry their units", () => {
    const { charge, dose } = tape();
    expect(dose.over(charge).unit.symbol).toBe("Gy/nC");
    expect(dose.over(charge).times(charge).unit).toBe(GY);
    expect(charge.times(charge).unit.symbol).toBe("nC²");
    expect(charge.times(charge).squareRoot().unit).toBe(NC);
    expect(charge.power(-2).unit.symbol).toBe("1/nC²");
    expect(charge.power(0).unit).toBe(ONE);
    expect(charge.negative().unit).toBe(NC);
  });

  it("MODEL-4: operands from two tapes are refused", () => {
    const here = tape();
    const there = tape();
    expect(() => here.charge.plus(there.charge)).toThrow("different tapes");
    expect(() => here.charge.times(there.angle)).toThrow("different tapes");
    expect(() => here.charge.over(there.charge)).toThrow("different tapes");
  });

  it("MODEL-4: a result of another model is refused, for its number means something else there", () => {
    const of = (value: number) => {
      const model = new Model();
      return {
        model,
        x: model.estimate({ key: "x", symbol: "x", label: "x", type: "B", unit: ONE, value, u: 0.1 }),
      };
    };
    const [a, b] = [of(1), of(2)];
    expect(propagate(a.model, a.x).value).toBe(1);
    expect(() => propagate(a.model, b.x)).toThrow("another model");
    expect(() => a.model.indexOf(b.x)).toThrow("another model");
    expect(a.model.indexOf(a.x)).toBe(0);
  });

  it("MODEL-5: a key names one node, and finds it again", () => {
    const { own, charge, dose } = tape();
    const named = charge.named("reading", "M", "reading of the detector");
    expect(named).toBe(charge);
    expect(own.find("reading")?.index).toBe(charge.index);
    expect(own.find("nothing")).toBeUndefined();
    expect(own.names.get(charge.index)).toEqual({ key: "reading", symbol: "M", label: "reading of the detector" });
    expect(() => dose.named("reading", "D", "dose")).toThrow('two nodes are called "reading"');
  });

  it("MODEL-5: a node has one name: a second one would hide the first", () => {
    const { own, charge } = tape();
    charge.named("reading", "M", "reading");
    expect(() => charge.named("signal", "S", "signal")).toThrow('called "reading" already');
    expect(own.find("signal")).toBeUndefined();
    expect(own.names.get(charge.index)?.symbol).toBe("M");
  });

  it("MODEL-6: values are there as soon as a node is written, each operation in its place", () => {
    const { own, charge, dose } = tape();
    const result = charge.minus(charge.times(0.5)).over(dose);
    expect(result.value).toBe(2);
    expect(own.operations).toEqual([
      Operation.input,
      Operation.input,
      Operation.input,
      Operation.literal,
      Operation.multiply,
      Operation.subtract,
      Operation.divide,
    ]);
    expect(own.length).toBe(7);
    expect(own.literal(3, GY).unit).toBe(GY);
  });

  it("MODEL-6: a sum runs from left to right, and a sum of nothing is refused", () => {
    const own = new Tape();
    const terms = [1, 1e16, -1e16].map((value) => own.input(value, NC));
    expect(sum(terms).value).toBe(1 + 1e16 - 1e16);
    expect(sum(terms).value).toBe(0);
    expect(sum(terms.slice(0, 1))).toBe(terms[0]);
    expect(() => sum([])).toThrow(RangeError);
  });
});
