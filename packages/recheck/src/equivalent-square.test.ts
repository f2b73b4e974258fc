import { describe, expect, it } from "vitest";
import { atEstimates } from "./elementary-input.ts";
import { equivalentSquare, fieldWidths, widthKeys } from "./equivalent-square.ts";
import { typedField } from "./testing/typed-readings.ts";

describe("the equivalent square", () => {
  it("of a rectangle is √(A·B)", () => {
    expect(equivalentSquare("rectangle", { x_mm: 4, y_mm: 9, measured: true })).toBe(6);
  });

  it("of a circle of radius 5 is 8.86227 (checks.md, Fields: M, C)", () => {
    expect(equivalentSquare("circle", { x_mm: 10, y_mm: 10, measured: false })).toBeCloseTo(8.86227, 5);
    expect(equivalentSquare("circle", { x_mm: 9.5, y_mm: 10.5, measured: true })).toBeCloseTo(8.86227, 5);
  });
});

describe("the widths of a field", () => {
  it("are the measured ones where both were, else the nominal", () => {
    const field = typedField("a", { x_mm: 10, y_mm: 20, fwhm_x_mm: 10.1 });
    expect(fieldWidths(field, atEstimates)).toEqual({ x_mm: 10, y_mm: 20, measured: false });
    expect(fieldWidths({ ...field, fwhm_y_mm: 20.2 }, atEstimates)).toEqual({ x_mm: 10.1, y_mm: 20.2, measured: true });
    const { x_mm: _, y_mm: __, ...round } = field;
    const circle = { ...round, shape: "circle", diameter_mm: 7 } as const;
    expect(fieldWidths(circle, atEstimates)).toEqual({ x_mm: 7, y_mm: 7, measured: false });
  });

  it("have an error each", () => {
    const [x, y] = widthKeys("a");
    const widths = fieldWidths(typedField("a"), (key) => (key === x ? 0.1 : key === y ? -0.2 : 0));
    expect(widths).toEqual({ x_mm: 10.1, y_mm: 9.8, measured: false });
  });

  it("must be there", () => {
    const { x_mm: _, ...field } = typedField("a");
    expect(() => fieldWidths(field, atEstimates)).toThrow("a: the field's size is missing");
  });
});
