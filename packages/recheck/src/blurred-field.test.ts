import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { blurredField, disc, strip, unblurred } from "./blurred-field.ts";
import { exp } from "./special.ts";

describe("a blurred strip", () => {
  it("has the centre values of the blurred boxes (checks.md, penumbra, C)", () => {
    expect(strip(0, 5, 2)).toBeCloseTo(0.987581, 6);
    expect(strip(0, 3, 2)).toBeCloseTo(0.866386, 6);
    expect(strip(0, 2.5, 2)).toBeCloseTo(0.7887, 6);
  });

  it("has their FWHM, and gives their width back (checks.md, C)", () => {
    for (const [width, fwhm] of [
      [10, 10.062261],
      [6, 6.665156],
      [5, 6.042034],
    ] as const) {
      expect(strip(fwhm / 2, width / 2, 2)).toBeCloseTo(strip(0, width / 2, 2) / 2, 6);
      expect(2 * unblurred(strip, fwhm, 2)).toBeCloseTo(width, 5);
    }
  });
});

describe("a blurred disc", () => {
  it("has 1 − exp(−a²/2σ²) at its centre", () => {
    for (const [a, sigma] of [
      [1.4, 2],
      [2.5, 1.5],
      [6, 1.5],
      [50, 1],
    ] as const) {
      expect(disc(0, a, sigma)).toBeCloseTo(1 - exp((-0.5 * a * a) / (sigma * sigma)), 9);
    }
  });

  it("has the values of the noncentral χ² distribution off its centre (scipy, C)", () => {
    expect(disc(1, 2.5, 1.5)).toBeCloseTo(0.67633506626762, 11);
    expect(disc(3, 2.5, 1.5)).toBeCloseTo(0.26620566451482675, 11);
    expect(disc(0.5, 1.4, 2)).toBeCloseTo(0.21138430291532187, 11);
  });

  it("is zero far outside, and falls from the centre outwards", () => {
    expect(disc(100, 2.5, 1.5)).toBe(0);
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 8, noNaN: true }),
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.double({ min: 0.5, max: 3, noNaN: true }),
        (r, a, sigma) => {
          expect(disc(r + 0.1, a, sigma)).toBeLessThan(disc(r, a, sigma) + 1e-12);
        },
      ),
    );
  });
});

describe("the width before the blur", () => {
  it("is not the FWHM where the blur is wide (checks.md, C)", () => {
    expect(2 * unblurred(strip, 5, 2)).toBeCloseTo(2.403716, 6);
    expect(2 * unblurred(strip, 5, 1.5)).toBeCloseTo(4.501661, 6);
    expect(2 * unblurred(disc, 5, 2)).toBeCloseTo(2.760664, 6);
  });

  it("is the FWHM of a wide field", () => {
    expect(unblurred(strip, 100.3, 1.5)).toBeCloseTo(50.15, 10);
    expect(unblurred(strip, 400, 0.5)).toBeCloseTo(200, 10);
    // The edge of a disc is bent: at it the blurred dose is below one half, by about σ²/2a in place.
    expect(unblurred(disc, 100, 1.5)).toBeCloseTo(50 + (1.5 * 1.5) / 100, 3);
  });

  it("is none where the FWHM is the blur's own or less, and the field a Gaussian of that FWHM", () => {
    expect(unblurred(strip, 4.7, 2)).toBe(0);
    for (const shape of ["rectangle", "circle"] as const) {
      const dose = blurredField({ shape, x_mm: 4, y_mm: 4, measured: true, sigma_mm: 2 });
      expect(dose(2, 0)).toBeCloseTo(0.5, 12);
      expect(dose(0, 2)).toBeCloseTo(0.5, 12);
      expect(dose(0, 0)).toBe(1);
    }
  });

  it("is the nominal size where nothing was measured", () => {
    const dose = blurredField({ shape: "rectangle", x_mm: 10, y_mm: 6, measured: false, sigma_mm: 2 });
    expect(dose(0, 0)).toBeCloseTo(0.987581 * 0.866386, 5);
    const round = blurredField({ shape: "circle", x_mm: 5, y_mm: 5, measured: false, sigma_mm: 1.5 });
    expect(round(0.6, 0.8)).toBeCloseTo(0.67633506626762, 11);
  });

  it("gives a field that has half its dose at the measured widths", () => {
    const dose = blurredField({ shape: "rectangle", x_mm: 5, y_mm: 8, measured: true, sigma_mm: 1.5 });
    expect(dose(2.5, 0)).toBeCloseTo(dose(0, 0) / 2, 12);
    expect(dose(0, 4)).toBeCloseTo(dose(0, 0) / 2, 12);
    const round = blurredField({ shape: "circle", x_mm: 5.1, y_mm: 4.9, measured: true, sigma_mm: 1.5 });
    expect(round(2.5, 0)).toBeCloseTo(round(0, 0) / 2, 12);
  });
});
