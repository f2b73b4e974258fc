import { describe, expect, it } from "vitest";
import { blurredField, type Dose } from "./blurred-field.ts";
import { gaussLegendre } from "./gauss-rule.ts";
import { exp } from "./special.ts";
import { type ActiveVolume, averagedDose, footprint, positioning, volumeAveraging } from "./volume-averaging.ts";

const gaussian =
  (s: number): Dose =>
  (x, y) =>
    exp((-0.5 * (x * x + y * y)) / (s * s));
const cylinder = (diameter_mm: number, length_mm: number, axis: ActiveVolume["axis"]) =>
  footprint({ diameter_mm, length_mm, axis });
const disc = cylinder(1, 1, "along-beam");
const field = (size: number, sigma_mm: number, measured: boolean, shape: "rectangle" | "circle" = "rectangle") =>
  blurredField({ shape, x_mm: size, y_mm: size, measured, sigma_mm });

describe("volume averaging (checks.md, C)", () => {
  it("of a Gaussian field over a disc, closed form", () => {
    expect(volumeAveraging(gaussian(2), disc)).toBeCloseTo(1.01570638, 8);
    expect(volumeAveraging(gaussian(2), cylinder(2, 1, "along-beam"))).toBeCloseTo(1.06380174, 8);
    for (const R of [0.1, 0.5, 1, 2]) {
      const x = (R * R) / 8;
      expect(volumeAveraging(gaussian(2), cylinder(2 * R, 1, "along-beam"))).toBeCloseTo(x / (1 - exp(-x)), 8);
    }
  });

  it("of a Gaussian field over a cylinder across the beam, and over its section and its line alone", () => {
    expect(volumeAveraging(gaussian(2), cylinder(1, 1, "across-beam"))).toBeCloseTo(1.01832122, 8);
    expect(volumeAveraging(gaussian(2), cylinder(1, 1e-6, "across-beam"))).toBeCloseTo(1.00781242, 8);
    expect(volumeAveraging(gaussian(2), cylinder(1e-6, 1, "across-beam"))).toBeCloseTo(1.01042734, 8);
  });

  it("of square fields of nominal size", () => {
    for (const [size, k, digits] of [
      [5, 1.009081, 6],
      [6, 1.007035, 6],
      [10, 1.0014, 6],
      [20, 1.0000002, 7],
    ] as const) {
      expect(volumeAveraging(field(size, 2, false), disc)).toBeCloseTo(k, digits);
    }
  });

  it("of fields from their measured FWHM", () => {
    expect(volumeAveraging(field(5, 2, true), disc)).toBeCloseTo(1.013898, 6);
    expect(volumeAveraging(field(5, 1.5, true), disc)).toBeCloseTo(1.012536, 6);
    expect(volumeAveraging(field(5, 2, true, "circle"), disc)).toBeCloseTo(1.013903, 6);
  });

  it("of a long cylinder across a small field, by scipy's quadrature (C)", () => {
    expect(volumeAveraging(field(5, 1.5, true), cylinder(1, 3, "across-beam"))).toBeCloseTo(1.083994221710089, 9);
  });

  it("does not hang on the order of the quadrature", () => {
    const fine = footprint({ diameter_mm: 2, length_mm: 3, axis: "across-beam" }, gaussLegendre(24));
    const usual = cylinder(2, 3, "across-beam");
    for (const shape of ["rectangle", "circle"] as const) {
      const dose = field(4, 0.9, true, shape);
      expect(volumeAveraging(dose, usual)).toBeCloseTo(volumeAveraging(dose, fine), 6);
    }
  });

  it("is none in a flat field, and its points weigh one together, the centre of mass at the centre", () => {
    expect(volumeAveraging(() => 3, disc)).toBeCloseTo(1, 14);
    for (const points of [disc, cylinder(1, 3, "across-beam")]) {
      expect(averagedDose(() => 1, points, 7, 8)).toBeCloseTo(1, 14);
      expect(averagedDose((x) => x, points, 0.3, 0)).toBeCloseTo(0.3, 14);
    }
  });

  it("lies along x across the beam: long beside the field's narrow side", () => {
    const slit: Dose = (x) => exp(-0.5 * x * x);
    const across = cylinder(0.5, 3, "across-beam");
    expect(volumeAveraging(slit, across)).toBeGreaterThan(1.3);
    expect(volumeAveraging((x, y) => slit(y, x), across)).toBeLessThan(1.02);
  });
});

describe("positioning", () => {
  it("of a point in a Gaussian field has the closed form E[L] = s²/(s² + u²)", () => {
    const point = [{ x: 0, y: 0, weight: 1 }];
    for (const u_mm of [0.1, 0.3, 0.5]) {
      const [s2, u2] = [4, u_mm * u_mm];
      const { k, u } = positioning(gaussian(2), point, { x_mm: 0, y_mm: 0, u_mm });
      const mean = s2 / (s2 + u2);
      expect(k).toBeCloseTo(1 / mean, 10);
      // E[L²] = s²/(s² + 2u²)
      expect(u).toBeCloseTo(Math.sqrt(s2 / (s2 + 2 * u2) - mean * mean) / mean, 8);
    }
  });

  it("with a measured offset agrees with scipy's Gauss–Hermite of order 40 (C)", () => {
    const { k, u } = positioning(field(5, 1.5, true), disc, { x_mm: 0.2, y_mm: -0.1, u_mm: 0.3 });
    expect(k).toBeCloseTo(1.0229698603683512, 9);
    expect(u).toBeCloseTo(0.022079898635271968, 8);
  });

  it("is nil in a flat field, and without an uncertainty only the offset counts", () => {
    const flat = positioning(() => 1, disc, { x_mm: 1, y_mm: 0, u_mm: 1 });
    expect(flat.k).toBeCloseTo(1, 12);
    expect(flat.u).toBeCloseTo(0, 12);
    const { k, u } = positioning(gaussian(2), [{ x: 0, y: 0, weight: 1 }], { x_mm: 1, y_mm: 0, u_mm: 0 });
    expect(k).toBeCloseTo(1 / exp(-1 / 8), 12);
    expect(u).toBeCloseTo(0, 7);
  });
});
