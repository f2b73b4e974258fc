import fc from "fast-check";
import { expect, test } from "vitest";
import { boxUnderGaussian, discUnderGaussian, profileOf, widthsAtHalf } from "./lateral-profile.ts";

const square = (side: number) => ({ shape: "rectangle", x_mm: side, y_mm: side }) as const;
const circle = (diameter_mm: number) => ({ shape: "circle", diameter_mm }) as const;

test.each([
  // the closed form with erf, scipy, C
  [0, 5, 2, 0.9875806693484477],
  [1.3, 2.5, 1.5, 0.7824954286610426],
  [6, 5, 2, 0.30853751973642446],
  [40, 50, 1.5, 0.999999999986916],
  [52, 50, 1.5, 0.09121121972586793],
])("a box at x = %s of half width %s under σ = %s", (x, a, sigma, value) => {
  expect(boxUnderGaussian(x, a, sigma)).toBeCloseTo(value, 13);
});

test.each([
  // one less Marcum's Q through the noncentral χ² distribution, scipy, C
  [0, 2.5, 1.5, 0.7506477912227039],
  [1.2, 2.5, 1.5, 0.6453376402186525],
  [2.5, 2.5, 1.5, 0.37301466325849114],
  [6, 5, 1, 0.1374851637699673],
  [20, 20, 1.5, 0.4850291120195932],
])("a disc at r = %s of radius %s under σ = %s", (r, a, sigma, value) => {
  expect(discUnderGaussian(r, a, sigma)).toBeCloseTo(value, 11);
});

test.each([
  // box of width 2a under σ = 2 mm: centre and FWHM, docs/checks.md, Fields, C
  [10, 0.987581, 10.062261],
  [6, 0.866386, 6.665156],
  [5, 0.7887, 6.042034],
])("a box of %s mm has the centre and the width of the check values", (side, centre, width) => {
  expect(boxUnderGaussian(0, side / 2, 2)).toBeCloseTo(centre, 6);
  expect(widthsAtHalf({ edgeSigma_mm: 2 }, square(side))[0]).toBeCloseTo(width, 6);
});

test("the widths of circles and rectangles are those of the check values", () => {
  // FWHM 5 for σ 2 needs 2a = 2.403716 as a box and 2.760664 as a circle; for σ 1.5 a box of 4.501661 (docs/checks.md, C)
  expect(widthsAtHalf({ edgeSigma_mm: 2 }, circle(2.760664))).toEqual([expect.closeTo(5, 6), expect.closeTo(5, 6)]);
  expect(widthsAtHalf({ edgeSigma_mm: 2 }, square(2.403716))[1]).toBeCloseTo(5, 5);
  const oblong = { shape: "rectangle", x_mm: 4.501661, y_mm: 40 } as const;
  expect(widthsAtHalf({ edgeSigma_mm: 1.5 }, oblong)).toEqual([expect.closeTo(5, 5), expect.closeTo(40, 5)]);
});

test("a profile is one at the centre, symmetric, and falls outwards", () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.double({ min: 3, max: 40, noNaN: true }).map(square),
        fc.double({ min: 3, max: 40, noNaN: true }).map(circle),
      ),
      fc.double({ min: 0, max: 30, noNaN: true }),
      fc.double({ min: 0, max: 30, noNaN: true }),
      (aperture, x, y) => {
        const profile = profileOf({ edgeSigma_mm: 1.5 }, aperture);
        expect(profile(0, 0)).toBeCloseTo(1, 14);
        expect(profile(-x, y)).toBeCloseTo(profile(x, y), 13);
        expect(profile(x, -y)).toBeCloseTo(profile(x, y), 13);
        expect(profile(x + 1, y)).toBeLessThanOrEqual(profile(x, y) + 1e-14);
        if (aperture.shape === "circle") expect(profile(y, x)).toBeCloseTo(profile(x, y), 13);
      },
    ),
    { numRuns: 40 },
  );
});

test("an unflattened beam has a peak, and falls to 1/√2 at its radius", () => {
  const profile = profileOf({ edgeSigma_mm: 1.5, peakRadius_mm: 130 }, square(400));
  expect(profile(130, 0)).toBeCloseTo(Math.SQRT1_2, 12);
  expect(profile(0, 0)).toBe(1);
  // of the size of 6 MV beams without filter at 50 and 100 mm off axis (from memory)
  expect(profile(50, 0)).toBeGreaterThan(0.9);
  expect(profile(100, 0)).toBeLessThan(0.85);
});
