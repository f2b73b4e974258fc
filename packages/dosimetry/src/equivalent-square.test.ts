import { Model, ONE, propagate, type Scalar, Tape, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { circleEquivalentSquare, rectangleEquivalentSquare, sterlingSquare } from "./equivalent-square.ts";
import { MILLIMETRE } from "./length-unit.ts";

/** Two lengths in mm on a tape of their own. */
function lengths(a: number, b: number): [Scalar, Scalar] {
  const tape = new Tape();
  return [tape.input(a, MILLIMETRE), tape.input(b, MILLIMETRE)];
}

/** Field widths from a small cone to the largest field. */
const width = fc.double({ min: 2, max: 400, noNaN: true });

describe("equivalent square small field size of a rectangle", () => {
  it("FIELD-1: √(A·B) of 4 mm by 9 mm would be 6 mm, and 5 mm by 6 mm is √30 mm", () => {
    expect(rectangleEquivalentSquare(...lengths(4, 9)).node.value).toBe(6);
    const { node } = rectangleEquivalentSquare(...lengths(5, 6));
    expect(node.value).toBe(Math.sqrt(30));
    expect(node.unit).toBe(MILLIMETRE);
  });

  // IAEA TRS-483, V: valid for 0.7 < A/B < 1.4, the ends excluded.
  it.each([
    [7.01, 10, true],
    [13.99, 10, true],
    [7, 10, false],
    [14, 10, false],
    [5, 20, false],
  ])("FIELD-1: a field of %d mm by %d mm lies inside the range: %s", (a, b, valid) => {
    expect(rectangleEquivalentSquare(...lengths(a, b)).valid).toBe(valid);
  });

  it("FIELD-1: outside the range the value is written all the same, with the facts of why it does not hold", () => {
    const { node, valid, reason } = rectangleEquivalentSquare(...lengths(30, 20));
    expect(node.value).toBe(Math.sqrt(600));
    expect(valid).toBe(false);
    expect(reason).toEqual({ quantity: "A/B", value: 1.5, unit: "1", holds: "0.7 < A/B < 1.4" });
  });

  it("FIELD-1: inside the range there is no reason", () => {
    expect(rectangleEquivalentSquare(...lengths(10, 10))).not.toHaveProperty("reason");
  });

  it("FIELD-1: a square is its own equivalent, and the two widths may be exchanged", () => {
    fc.assert(
      fc.property(width, width, (a, b) => {
        expect(rectangleEquivalentSquare(...lengths(a, a)).node.value).toBeCloseTo(a, 10);
        expect(rectangleEquivalentSquare(...lengths(a, b)).node.value).toBe(
          rectangleEquivalentSquare(...lengths(b, a)).node.value,
        );
      }),
    );
  });

  it("FIELD-1: relative uncertainties of the widths arrive halved, in quadrature", () => {
    const model = new Model();
    const fwhm = (key: string, value: number, u: number) =>
      model.estimate({ key, type: "B", symbol: key, label: key, unit: MILLIMETRE, value, u });
    const { node } = rectangleEquivalentSquare(fwhm("A", 10, 0.2), fwhm("B", 8, 0.24));
    // ½·√80·√(0.02² + 0.03²), exact rationals under the roots.
    expect(propagate(model, node).u).toBeCloseTo(0.5 * Math.sqrt(80) * Math.sqrt(0.0013), 12);
  });
});

describe("equivalent square small field size of a circle", () => {
  it("FIELD-2: r 5 mm gives 8.86227 mm (form from memory, M; value computed, C)", () => {
    expect(circleEquivalentSquare(...lengths(10, 10)).value).toBeCloseTo(8.86227, 5);
  });

  it("FIELD-2: r is a quarter of the sum of both widths", () => {
    const square = circleEquivalentSquare(...lengths(9, 11));
    expect(square.value).toBeCloseTo(8.86227, 5);
    expect(square.unit).toBe(MILLIMETRE);
  });

  it("FIELD-2: square and circle have one area", () => {
    fc.assert(
      fc.property(width, (fwhm) => {
        const side = circleEquivalentSquare(...lengths(fwhm, fwhm)).value;
        expect((side * side) / ((Math.PI * fwhm * fwhm) / 4)).toBeCloseTo(1, 12);
      }),
    );
  });
});

describe("Sterling's square", () => {
  // 4A/P, computed, C; in cm there, and as the formula is homogeneous, in mm tenfold.
  it.each([
    [50, 200, 80],
    [100, 200, 133.333],
    [50, 100, 66.667],
  ])("FIELD-3: %d mm by %d mm is equivalent to a square of %d mm", (a, b, side) => {
    const square = sterlingSquare(...lengths(a, b));
    expect(square.value).toBeCloseTo(side, 3);
    expect(square.unit).toBe(MILLIMETRE);
  });

  it("FIELD-3: it never exceeds the side of the square of equal area", () => {
    fc.assert(
      fc.property(width, width, (a, b) => {
        expect(sterlingSquare(...lengths(a, b)).value).toBeLessThanOrEqual(Math.sqrt(a * b) * (1 + 1e-15));
      }),
    );
  });
});

describe("lengths of fields", () => {
  it.each([
    ["a rectangle", rectangleEquivalentSquare],
    ["a circle", circleEquivalentSquare],
    ["Sterling's square", sterlingSquare],
  ])("FIELD-6: %s takes millimetres alone, and nothing that is not above zero", (_, square) => {
    const tape = new Tape();
    const inCm = tape.input(1, Unit.parse("cm"));
    const inMm = tape.input(10, MILLIMETRE);
    expect(() => square(inCm, inMm)).toThrow(/needed in mm, but is in cm/);
    expect(() => square(inMm, tape.input(10, ONE))).toThrow(TypeError);
    for (const value of [0, -3, Number.NaN, Infinity]) {
      expect(() => square(inMm, tape.input(value, MILLIMETRE))).toThrow(RangeError);
      expect(() => square(tape.input(value, MILLIMETRE), inMm)).toThrow(`but is ${value}`);
    }
  });
});
