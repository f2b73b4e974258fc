import { budget, propagate } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addFieldSize } from "./field-size.ts";
import { chainOf } from "./testing/made-up-series.ts";

const rectangle = (x_mm: number, y_mm: number) => ({ shape: "rectangle", x_mm, y_mm }) as const;

describe("the size that an output factor belongs to", () => {
  it("OF-10: is the equivalent square of the measured widths where both were measured", () => {
    const field = { ...rectangle(20, 16), fwhm_x_mm: 20, fwhm_y_mm: 16.2 };
    const size = addFieldSize(chainOf(), "20x16", field, 0.1);
    expect(size.measured).toBe(true);
    expect(size.equivalentSquare.value).toBeCloseTo(18, 12); // √324
    expect(size.equivalentSquare.unit.symbol).toBe("mm");
    expect(size.equivalentSquare.tape.names.get(size.equivalentSquare.index)?.key).toBe("equivalent-square.20x16");
  });

  it("OF-10: of a circle it is r·√π with r from both widths", () => {
    const field = { shape: "circle", diameter_mm: 10, fwhm_x_mm: 9.8, fwhm_y_mm: 10.2 } as const;
    // r 5 → 8.86227 (docs/checks.md, Fields, M and C)
    expect(addFieldSize(chainOf(), "cone-10", field, 0.1).equivalentSquare.value).toBeCloseTo(8.86227, 5);
  });

  it("OF-10: without both measured widths it is the nominal size, and says so", () => {
    const chain = chainOf();
    for (const [i, field] of [
      rectangle(20, 18),
      { ...rectangle(20, 18), fwhm_x_mm: 21 },
      { ...rectangle(20, 18), fwhm_y_mm: 17 },
    ].entries()) {
      const size = addFieldSize(chain, `f${i}`, field, 0.1);
      expect(size.measured).toBe(false);
      expect(size.equivalentSquare.value).toBeCloseTo(Math.sqrt(360), 12);
    }
    const circle = addFieldSize(chain, "cone", { shape: "circle", diameter_mm: 10 }, 0.1);
    expect(circle.widths.map(({ value }) => value)).toEqual([10, 10]);
  });

  it("OF-10: each width is an input of its own with the uncertainty of a field width", () => {
    const chain = chainOf();
    const { equivalentSquare } = addFieldSize(chain, "sq", rectangle(10, 10), 0.2);
    // S = √(AB): ∂S/∂A = ½ at A = B
    expect(propagate(chain.model, equivalentSquare).u).toBeCloseTo(0.2 / Math.SQRT2, 12);
    expect(budget(propagate(chain.model, equivalentSquare)).map(({ input, u }) => [input, u])).toEqual([
      ["output-factors/sq/width-x", 0.2],
      ["output-factors/sq/width-y", 0.2],
    ]);
  });

  it("OF-10: a field too oblong for the formula gets its value with the reason", () => {
    const chain = chainOf();
    expect(addFieldSize(chain, "a", rectangle(20, 16), 0.1)).not.toHaveProperty("outOfRange");
    const { outOfRange, equivalentSquare } = addFieldSize(chain, "b", rectangle(30, 10), 0.1);
    expect(outOfRange).toMatchObject({ value: 3 });
    expect(equivalentSquare.value).toBeCloseTo(Math.sqrt(300), 12);
  });

  it("OF-10: a shape without its size is a mistake of the caller's", () => {
    expect(() => addFieldSize(chainOf(), "x", { shape: "circle", x_mm: 1, y_mm: 1 }, 0.1)).toThrow("a circle without");
    expect(() => addFieldSize(chainOf(), "x", { shape: "rectangle", x_mm: 1 }, 0.1)).toThrow("a rectangle without");
  });
});
