import { ONE, Tape, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lateralEquilibrium, lateralRangeFromPdd, lateralRangeFromTpr } from "./lateral-equilibrium.ts";
import { MILLIMETRE } from "./length-unit.ts";
import { PERCENT } from "./percent-unit.ts";

const tpr = (value: number) => new Tape().input(value, ONE);
const pdd = (value: number) => new Tape().input(value, PERCENT);

/** A field of that width with that range and detector, all in mm. */
function equilibrium(fwhm: number, range: number, size: number) {
  const tape = new Tape();
  const [a, b, c] = [fwhm, range, size].map((value) => tape.input(value, MILLIMETRE));
  return lateralEquilibrium(a!, b!, c!);
}

// The published forms are in cm and do not agree with each other; nothing here asks them to.
describe("lateral charged particle equilibrium range", () => {
  it("FIELD-4: TPR20,10 0.670 gives 1.2252 cm (form from IAEA TRS-483, V2; value computed, C)", () => {
    const { node, valid } = lateralRangeFromTpr(tpr(0.67));
    expect(node.value).toBeCloseTo(12.252, 3);
    expect(node.unit).toBe(MILLIMETRE);
    expect(valid).toBe(true);
  });

  it("FIELD-4: %dd(10)x 66.2 gives 1.0496 cm (form from IAEA TRS-483, V2; value computed, C)", () => {
    const { node, valid } = lateralRangeFromPdd(pdd(66.2));
    expect(node.value).toBeCloseTo(10.496, 3);
    expect(node.unit).toBe(MILLIMETRE);
    expect(valid).toBe(true);
  });

  it("FIELD-4: a beam so soft that the straight line falls below zero is out of range, with the value shown", () => {
    const soft = lateralRangeFromTpr(tpr(0.5));
    expect(soft.valid).toBe(false);
    expect(soft.reason).toMatchObject({ quantity: "r_LCPE", unit: "mm", holds: "r_LCPE > 0" });
    expect(soft.reason!.value).toBeCloseTo(-1.975, 9);
    expect(lateralRangeFromPdd(pdd(50)).valid).toBe(false);
  });

  it("FIELD-4: a harder beam has the longer range", () => {
    fc.assert(
      // From 4 MV to 25 MV, no closer than readings tell apart.
      fc.property(fc.double({ min: 0.6, max: 0.78, noNaN: true }), (quality) => {
        expect(lateralRangeFromTpr(tpr(quality + 0.01)).node.value).toBeGreaterThan(
          lateralRangeFromTpr(tpr(quality)).node.value,
        );
      }),
    );
  });

  it("FIELD-4: a depth dose as a fraction is refused, and a ratio in per cent", () => {
    expect(() => lateralRangeFromPdd(tpr(0.662))).toThrow("%dd(10)x is needed in %, but is in 1");
    expect(() => lateralRangeFromTpr(pdd(67))).toThrow("TPR20,10 is needed in 1, but is in %");
    expect(() => lateralRangeFromTpr(tpr(-0.67))).toThrow(RangeError);
    expect(() => lateralRangeFromPdd(pdd(Number.NaN))).toThrow(RangeError);
  });
});

describe("lateral equilibrium of a field", () => {
  it("FIELD-5: FWHM ≥ 2·r_LCPE + d, equality included", () => {
    expect(equilibrium(30, 12, 6).valid).toBe(true);
    expect(equilibrium(30, 12, 6).node.value).toBe(0);
    expect(equilibrium(29.99, 12, 6).valid).toBe(false);
  });

  it("FIELD-5: the margin is what the field has to spare, in mm", () => {
    const { node } = equilibrium(40, 12.25, 7);
    expect(node.value).toBe(8.5);
    expect(node.unit).toBe(MILLIMETRE);
  });

  it("FIELD-5: a field too small says what it would need", () => {
    expect(equilibrium(20, 12, 6).reason).toEqual({
      quantity: "FWHM",
      value: 20,
      unit: "mm",
      holds: "FWHM >= 2 r_LCPE + d = 30",
    });
  });

  it("FIELD-6: lengths in other units, or not above zero, are refused by name", () => {
    const tape = new Tape();
    const mm = (value: number) => tape.input(value, MILLIMETRE);
    expect(() => lateralEquilibrium(tape.input(3, Unit.parse("cm")), mm(12), mm(6))).toThrow(
      /the field width is needed/,
    );
    expect(() => lateralEquilibrium(mm(30), mm(-2), mm(6))).toThrow(/the lateral equilibrium range .* but is -2/);
    expect(() => lateralEquilibrium(mm(30), mm(12), mm(0))).toThrow(/the size of the detector .* but is 0/);
  });
});
