import { Model, ONE, propagate, Tape, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pddFromSquare, photonComponentPdd, tprFromPddRatio, tprFromSquare } from "./beam-quality.ts";
import { MILLIMETRE } from "./length-unit.ts";
import { PERCENT } from "./percent-unit.ts";

function tprOf(square_mm: number, tpr: number) {
  const tape = new Tape();
  return tprFromSquare(tape.input(tpr, ONE), tape.input(square_mm, MILLIMETRE));
}

function pddOf(square_mm: number, pdd: number) {
  const tape = new Tape();
  return pddFromSquare(tape.input(pdd, PERCENT), tape.input(square_mm, MILLIMETRE));
}

const photonComponent = (pdd: number) => photonComponentPdd(new Tape().input(pdd, PERCENT));

describe("TPR20,10 of a 10 cm field from a square", () => {
  // Form of Palmans and IAEA TRS-483, V2; values computed, C. There S is in cm.
  it.each([
    [60, 0.66, 0.680631],
    [54, 0.647, 0.671411],
  ])("BEAM-1: a square of %d mm with TPR20,10 %d gives %d", (square, tpr, expected) => {
    const { node, valid } = tprOf(square, tpr);
    expect(node.value).toBeCloseTo(expected, 6);
    expect(node.unit).toBe(ONE);
    expect(valid).toBe(true);
  });

  it("BEAM-1: valid for squares of 40 to 120 mm, the ends included", () => {
    for (const square of [40, 100, 120]) expect(tprOf(square, 0.67).valid).toBe(true);
    for (const square of [39.9, 120.1, 10]) expect(tprOf(square, 0.67).valid).toBe(false);
    expect(tprOf(39.9, 0.67).reason).toEqual({ quantity: "S", value: 39.9, unit: "mm", holds: "40 <= S <= 120" });
  });

  it("BEAM-1: a 10 cm field is what it is, a smaller one gains scatter and a larger one loses it", () => {
    fc.assert(
      // From 4 MV to 25 MV.
      fc.property(fc.double({ min: 0.6, max: 0.8, noNaN: true }), (tpr) => {
        expect(tprOf(100, tpr).node.value).toBe(tpr);
        expect(tprOf(50, tpr).node.value).toBeGreaterThan(tpr);
        expect(tprOf(120, tpr).node.value).toBeLessThan(tpr);
      }),
    );
  });

  it("BEAM-1: the uncertainty of the square reaches the result through the scatter term", () => {
    const model = new Model();
    const one = { type: "B", symbol: "x", label: "x" } as const;
    const tpr = model.estimate({ ...one, key: "tpr", unit: ONE, value: 0.66, u: 0 });
    const square = model.estimate({ ...one, key: "square", unit: MILLIMETRE, value: 60, u: 0.5 });
    const { u } = propagate(model, tprFromSquare(tpr, square).node);
    // Difference of the same published form at 60 ± 0.5 mm, computed by hand: c·(1 − T)/(1 + 4c)² per cm.
    expect(u).toBeCloseTo((0.05 * 0.01615 * 0.34) / (1.0646 * 1.0646), 9);
  });
});

describe("percentage depth dose at 10 cm of a 10 cm field from a square", () => {
  it("BEAM-2: a square of 50 mm with 63 % gives 66.5825 % (form from memory, M; value computed, C)", () => {
    const { node, valid } = pddOf(50, 63);
    expect(node.value).toBeCloseTo(66.5825, 4);
    expect(node.unit).toBe(PERCENT);
    expect(valid).toBe(true);
  });

  it("BEAM-2: a 10 cm field is what it is, and 80 % is 80 % from any square", () => {
    expect(pddOf(100, 66).node.value).toBe(66);
    for (const square of [40, 70, 120]) expect(pddOf(square, 80).node.value).toBeCloseTo(80, 12);
  });

  it("BEAM-2: valid for squares of 40 to 120 mm", () => {
    expect(pddOf(40, 60).valid).toBe(true);
    expect(pddOf(120, 67).valid).toBe(true);
    expect(pddOf(30, 60)).toMatchObject({ valid: false, reason: { quantity: "S", value: 30 } });
  });
});

describe("TPR20,10 from PDD20,10", () => {
  it("BEAM-3: 0.575 gives 0.668508 (form from IAEA TRS-398, V2; value computed, C)", () => {
    const tpr = tprFromPddRatio(new Tape().input(0.575, ONE));
    // 0.6685075 exactly, which is printed as 0.668508.
    expect(tpr.value).toBeCloseTo(0.6685075, 12);
    expect(tpr.unit).toBe(ONE);
  });

  it("BEAM-3: a ratio in per cent, or none at all, is refused", () => {
    expect(() => tprFromPddRatio(new Tape().input(57.5, PERCENT))).toThrow("PDD20,10 is needed in 1, but is in %");
    expect(() => tprFromPddRatio(new Tape().input(0, ONE))).toThrow(RangeError);
  });
});

describe("photon component of the percentage depth dose", () => {
  // AAPM TG-51, from memory, M.
  it("BEAM-4: 80 % gives 81.36 % (from memory, M)", () => {
    const { node, valid } = photonComponent(80);
    expect(node.value).toBeCloseTo(81.36, 10);
    expect(node.unit).toBe(PERCENT);
    expect(valid).toBe(true);
  });

  it("BEAM-4: up to 75 % it is the depth dose itself (from memory, M)", () => {
    for (const pdd of [58, 66.2, 75]) expect(photonComponent(pdd)).toMatchObject({ node: { value: pdd }, valid: true });
    expect(photonComponent(75.1).node.value).toBeCloseTo(75.1517, 10);
  });

  it("BEAM-4: 89 % is the last that the fit reaches (from memory, M)", () => {
    expect(photonComponent(89).valid).toBe(true);
    const beyond = photonComponent(90);
    expect(beyond.node.value).toBeCloseTo(94.03, 10);
    expect(beyond.reason).toEqual({ quantity: "%dd(10)", value: 90, unit: "%", holds: "%dd(10) <= 89" });
  });

  it("BEAM-4: where the two parts meet they differ by less than 0.03 %", () => {
    expect(photonComponent(75 + 1e-9).node.value - photonComponent(75).node.value).toBeCloseTo(0.025, 6);
  });
});

describe("units of beam quality", () => {
  it("BEAM-5: per cent is a unit of its own and lengths are in mm: what is in another is refused by name", () => {
    const tape = new Tape();
    const cm = tape.input(6, Unit.parse("cm"));
    const mm = tape.input(60, MILLIMETRE);
    expect(() => tprFromSquare(tape.input(0.66, ONE), cm)).toThrow(
      "the equivalent square is needed in mm, but is in cm",
    );
    expect(() => tprFromSquare(tape.input(66, PERCENT), mm)).toThrow("TPR20,10 is needed in 1, but is in %");
    expect(() => pddFromSquare(tape.input(0.63, ONE), mm)).toThrow("depth dose is needed in %, but is in 1");
    expect(() => photonComponentPdd(tape.input(0.8, ONE))).toThrow("%dd(10) is needed in %, but is in 1");
  });

  it("BEAM-5: what is not above zero is refused with its value", () => {
    expect(() => tprOf(-60, 0.66)).toThrow("the equivalent square (in mm) must be a number above zero, but is -60");
    expect(() => tprOf(60, 0)).toThrow(RangeError);
    expect(() => pddOf(60, Number.NaN)).toThrow("but is NaN");
    expect(() => photonComponent(-1)).toThrow(RangeError);
  });
});
