import { bracketedRoot } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { EDGES, type FieldShape, NARROWEST_FWHM } from "./field-model.ts";
import { halfWidth } from "./half-width.ts";

const shapes: readonly FieldShape[] = ["rectangle", "circle"];

/** The equation solved by itself. */
function solved(shape: FieldShape, ratio: number): number {
  return bracketedRoot((a) => EDGES[shape].evaluate([], [0], [ratio, a])[0]!, 1e-4, ratio);
}

describe("the half width of a blurred field", () => {
  it.each(shapes)("VOL-3: of a %s is the root of its equation, from the narrowest to the widest", (shape) => {
    const least = NARROWEST_FWHM[shape];
    for (let k = 1; k <= 300; k++) {
      const ratio = least + (20 - least) * (k / 300) * (k / 300);
      const root = solved(shape, ratio);
      expect(Math.abs(halfWidth(shape, ratio) - root), `${ratio}`).toBeLessThan(1e-7 * Math.max(1, root));
    }
  });

  it("VOL-3: has the values of docs/checks.md (Volume averaging, C): FWHM 5 mm blurred by 2 and 1.5 mm", () => {
    expect(2 * 2 * halfWidth("rectangle", 5 / 2)).toBeCloseTo(2.403716, 6);
    expect(2 * 1.5 * halfWidth("rectangle", 5 / 1.5)).toBeCloseTo(4.501661, 6);
    expect(2 * 2 * halfWidth("circle", 5 / 2)).toBeCloseTo(2.760664, 6);
  });
});
