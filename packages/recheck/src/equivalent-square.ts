import type { OutputFactorReading } from "@alcedo-dosimetry/campaign";
import type { Shift } from "./elementary-input.ts";

/** Widths of a field: measured where they were, else nominal. */
export interface FieldWidths {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly measured: boolean;
}

/** Keys of the errors of a field's two widths. */
export const widthKeys = (condition: string) =>
  [`output-factors/${condition}/width/x`, `output-factors/${condition}/width/y`] as const;

/** A field's widths, shifted by their errors. */
export function fieldWidths(field: OutputFactorReading, shift: Shift): FieldWidths {
  const [x, y] = widthKeys(field.condition);
  const measured = field.fwhm_x_mm !== undefined && field.fwhm_y_mm !== undefined;
  const nominal = field.shape === "circle" ? [field.diameter_mm, field.diameter_mm] : [field.x_mm, field.y_mm];
  const x_mm = measured ? field.fwhm_x_mm : nominal[0];
  const y_mm = measured ? field.fwhm_y_mm : nominal[1];
  if (x_mm === undefined || y_mm === undefined) throw new Error(`${field.condition}: the field's size is missing`);
  return { x_mm: x_mm + shift(x), y_mm: y_mm + shift(y), measured };
}

/** The side of the square that the field counts as: `√(A·B)` for a rectangle, `r·√π` for a circle. */
export function equivalentSquare(shape: OutputFactorReading["shape"], { x_mm, y_mm }: FieldWidths): number {
  return shape === "rectangle" ? Math.sqrt(x_mm * y_mm) : ((x_mm + y_mm) / 4) * Math.sqrt(Math.PI);
}
