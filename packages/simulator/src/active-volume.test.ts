import { expect, test } from "vitest";
import { meanOverVolume } from "./active-volume.ts";
import { profileOf } from "./lateral-profile.ts";

const along = (diameter_mm: number) => ({ diameter_mm, length_mm: 1, axis: "along-beam" }) as const;
const square = (side: number) => ({ shape: "rectangle", x_mm: side, y_mm: side }) as const;
const correction = (...at: Parameters<typeof meanOverVolume>) => 1 / meanOverVolume(...at);

/** So narrow an opening leaves the Gaussian alone. */
const gaussian = profileOf({ edgeSigma_mm: 2 }, square(1e-3));

test.each([
  [1, 1.01570638],
  [2, 1.06380174],
])("a disc of %s mm in a Gaussian profile of σ = 2 mm", (diameter, k) => {
  // docs/checks.md, Volume averaging, C
  expect(correction(gaussian, along(diameter), 0, 0)).toBeCloseTo(k, 7);
});

test("a cylinder of 1 mm by 1 mm across the beam in a Gaussian profile", () => {
  // docs/checks.md, Volume averaging, C
  expect(correction(gaussian, { diameter_mm: 1, length_mm: 1, axis: "across-beam" }, 0, 0)).toBeCloseTo(1.01832122, 8);
});

test.each([
  [5, 1.009081],
  [6, 1.007035],
  [10, 1.0014],
  [20, 1.0000002],
])("a disc of 1 mm in a square of %s mm under σ = 2 mm", (side, k) => {
  // docs/checks.md, Volume averaging, C
  expect(correction(profileOf({ edgeSigma_mm: 2 }, square(side)), along(1), 0, 0)).toBeCloseTo(k, 6);
});

test("a disc in a circle and in a square that are both 5 mm wide at half maximum", () => {
  // docs/checks.md, Volume averaging: (FWHM, σ) = (5, 2) → circle 1.013903, square 1.013898, C
  const circle = profileOf({ edgeSigma_mm: 2 }, { shape: "circle", diameter_mm: 2.760664 });
  expect(correction(circle, along(1), 0, 0)).toBeCloseTo(1.013903, 6);
  expect(correction(profileOf({ edgeSigma_mm: 2 }, square(2.403716)), along(1), 0, 0)).toBeCloseTo(1.013898, 6);
});

test("away from the centre the mean is that of an adaptive quadrature over the cylinder", () => {
  // scipy's dblquad over the closed forms, C
  const box = profileOf({ edgeSigma_mm: 1.5 }, { shape: "rectangle", x_mm: 6, y_mm: 4 });
  expect(meanOverVolume(box, along(1), 0.3, -0.2)).toBeCloseTo(0.9802766876187856, 10);
  const circle = profileOf({ edgeSigma_mm: 1.5 }, { shape: "circle", diameter_mm: 6 });
  const long = { diameter_mm: 1, length_mm: 3, axis: "across-beam" } as const;
  expect(meanOverVolume(circle, long, 0.2, 0.4)).toBeCloseTo(0.9301248054682785, 8);
});

test("a constant profile has its value for a mean", () => {
  expect(meanOverVolume(() => 0.7, along(3), 1, 2)).toBeCloseTo(0.7, 14);
  expect(meanOverVolume(() => 0.7, { diameter_mm: 3, length_mm: 9, axis: "across-beam" }, 1, 2)).toBeCloseTo(0.7, 14);
});

test("across the beam the length lies along x", () => {
  const slope = (x: number, y: number) => x * x + 100 * y * y;
  const mean = meanOverVolume(slope, { diameter_mm: 0.01, length_mm: 6, axis: "across-beam" }, 0, 0);
  // ⟨x²⟩ of a line of 6 mm is 6²/12
  expect(mean).toBeCloseTo(3, 2);
});
