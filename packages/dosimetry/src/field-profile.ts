import { Program, type Scalar, type Slot } from "@alcedo-dosimetry/metrology";
import { boxProfile, discCentre, type FieldModel, type FieldShape } from "./field-model.ts";
import { MILLIMETRE } from "./length-unit.ts";

const lengths = (...symbols: string[]): Slot[] => symbols.map((symbol) => ({ symbol, unit: MILLIMETRE }));

const COLUMNS = lengths("x", "y", "r");

/** The dose across a field, relative to the open one, as programs of x, y and r. */
export const PROFILES: Readonly<Record<FieldShape, Program>> = {
  rectangle: new Program(COLUMNS, lengths("a_x", "a_y", "σ_x", "σ_y"), ([x, y], [ax, ay, sx, sy]) => [
    boxProfile(x!, ax!, sx!).times(boxProfile(y!, ay!, sy!)),
  ]),
  circle: new Program(COLUMNS, lengths("a", "σ"), ([, , r], [a, s]) => [r!.over(s!).blurredDisc(a!.over(s!))]),
};

/** The nodes that fill the slots of a field's profile. */
export function slotsOf({ shape, halfWidths, sigmas }: FieldModel): Scalar[] {
  return shape === "circle" ? [halfWidths[0], sigmas[0]] : [...halfWidths, ...sigmas];
}

/** D at the field's centre. */
export function centreOf({ shape, halfWidths, sigmas }: FieldModel): Scalar {
  if (shape === "circle") return discCentre(halfWidths[0], sigmas[0]);
  const along = (axis: 0 | 1) => halfWidths[axis].over(sigmas[axis].times(Math.SQRT2)).errorFunction();
  return along(0).times(along(1));
}
