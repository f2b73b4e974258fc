import type { Scalar } from "@alcedo-dosimetry/metrology";
import { MILLIMETRE } from "./length-unit.ts";
import { requirePositiveNode, requireUnit } from "./requirement.ts";
import { type Qualified, qualified } from "./validity.ts";

/** Side over radius of the square and the circle of one area, √π. */
const ROOT_PI = Math.sqrt(Math.PI);

/**
 * Equivalent square small field size of a rectangle, S_clin = √(A·B) (IAEA TRS-483, 2017).
 *
 * @param a - in-line field width at half maximum, at depth, in mm.
 * @param b - cross-line field width, likewise.
 * @returns S_clin in mm; valid for 0.7 < A/B < 1.4.
 * @throws TypeError for other units, RangeError for a width not above zero.
 */
export function rectangleEquivalentSquare(a: Scalar, b: Scalar): Qualified {
  requireLength(a, "the field width A");
  requireLength(b, "the field width B");
  const aspect = a.value / b.value;
  return qualified(a.times(b).squareRoot(), aspect > 0.7 && aspect < 1.4, {
    quantity: "A/B",
    value: aspect,
    unit: "1",
    holds: "0.7 < A/B < 1.4",
  });
}

/**
 * Equivalent square small field size of a circular field, S_clin = r·√π, where r is half the mean of two widths at right
 * angles (IAEA TRS-483, 2017).
 *
 * @param fwhmX - field width at half maximum, at depth, in mm.
 * @param fwhmY - the same at right angles.
 * @returns S_clin in mm.
 * @throws TypeError for other units, RangeError for a width not above zero.
 */
export function circleEquivalentSquare(fwhmX: Scalar, fwhmY: Scalar): Scalar {
  requireLength(fwhmX, "the field width in x");
  requireLength(fwhmY, "the field width in y");
  return fwhmX.plus(fwhmY).over(4).times(ROOT_PI);
}

/**
 * Equivalent square of a broad rectangle by area over perimeter, 4A/P = 2ab/(a + b) (Sterling et al., Br. J. Radiol.
 * 37, 544 (1964)): for depth dose and scatter of fields with lateral equilibrium, not for small fields.
 *
 * @param a - side in mm.
 * @param b - the other side in mm.
 * @returns the side of the square in mm.
 * @throws TypeError for other units, RangeError for a side not above zero.
 */
export function sterlingSquare(a: Scalar, b: Scalar): Scalar {
  requireLength(a, "the side a of the field");
  requireLength(b, "the side b of the field");
  return a.times(b).times(2).over(a.plus(b));
}

function requireLength(length: Scalar, what: string): void {
  requireUnit(length, MILLIMETRE, what);
  requirePositiveNode(length, what);
}
