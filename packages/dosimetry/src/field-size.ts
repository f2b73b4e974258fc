import type { Scalar } from "@alcedo-dosimetry/metrology";
import type { Chain } from "./chain.ts";
import { circleEquivalentSquare, rectangleEquivalentSquare } from "./equivalent-square.ts";
import { MILLIMETRE } from "./length-unit.ts";
import type { OutOfRange } from "./validity.ts";

/** A field as set, and as measured at depth where it was. */
export interface FieldDescription {
  readonly shape: "rectangle" | "circle";
  readonly x_mm?: number;
  readonly y_mm?: number;
  readonly diameter_mm?: number;
  readonly fwhm_x_mm?: number;
  readonly fwhm_y_mm?: number;
}

/** The size of a field that its output factor belongs to. */
export interface FieldSize {
  /** Widths along x and y in mm: measured where both were, else nominal. */
  readonly widths: readonly [Scalar, Scalar];
  readonly measured: boolean;
  /** S_clin in mm, named `equivalent-square.<condition>`. */
  readonly equivalentSquare: Scalar;
  /** Present where the formula of the equivalent square does not hold. */
  readonly outOfRange?: OutOfRange;
}

/**
 * The equivalent square small field size of a field, from the FWHMs where both were measured and else from the nominal
 * size.
 *
 * @param width_u standard uncertainty of a field width in mm.
 */
export function addFieldSize(chain: Chain, condition: string, field: FieldDescription, width_u: number): FieldSize {
  const { fwhm_x_mm, fwhm_y_mm, shape } = field;
  const measured = fwhm_x_mm !== undefined && fwhm_y_mm !== undefined;
  const [x, y] = measured ? [fwhm_x_mm, fwhm_y_mm] : nominalWidths(field);
  const width = (axis: "x" | "y", value: number) =>
    chain.model.estimate({
      key: `output-factors/${condition}/width-${axis}`,
      symbol: `${measured ? "FWHM" : "w"}_${axis},${condition}`,
      label: `${measured ? "measured" : "nominal"} width of ${condition} along ${axis}`,
      type: "B",
      unit: MILLIMETRE,
      value,
      u: width_u,
    });
  const widths = [width("x", x), width("y", y)] as const;
  const square =
    shape === "circle" ? { node: circleEquivalentSquare(...widths) } : rectangleEquivalentSquare(...widths);
  square.node.named(`equivalent-square.${condition}`, `S_clin,${condition}`, `equivalent square of ${condition}`);
  const reason = "reason" in square ? square.reason : undefined;
  return { widths, measured, equivalentSquare: square.node, ...(reason && { outOfRange: reason }) };
}

/** @throws Error where the description lacks the sizes of its shape: see that before. */
function nominalWidths({ shape, x_mm, y_mm, diameter_mm }: FieldDescription): [number, number] {
  if (shape === "circle" && diameter_mm !== undefined) return [diameter_mm, diameter_mm];
  if (shape === "rectangle" && x_mm !== undefined && y_mm !== undefined) return [x_mm, y_mm];
  throw new Error(`a ${shape} without its nominal size`);
}
