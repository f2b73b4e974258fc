import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cherenkovAngle, cherenkovPhotonsPerCentimetre, cherenkovThreshold } from "./cherenkov.ts";
import { ELECTRON_REST_ENERGY, FINE_STRUCTURE_CONSTANT } from "./physical-constants.ts";

/** From aerogel to flint glass. */
const index = fc.double({ min: 1.01, max: 2.2, noNaN: true });

// Water, acrylic, polystyrene. Values computed with CODATA constants, C.
describe("Cherenkov light of an electron", () => {
  it.each([
    [1.33, 264.0635],
    [1.49, 178.3015],
    [1.59, 146.2672],
  ])("LIGHT-5: in a medium of index %d the threshold is %d keV", (n, threshold) => {
    expect(cherenkovThreshold(n)).toBeCloseTo(threshold, 4);
  });

  it("LIGHT-5: at the threshold the electron is as fast as light in the medium", () => {
    fc.assert(
      fc.property(index, (n) => {
        const gamma = 1 + cherenkovThreshold(n) / ELECTRON_REST_ENERGY.value;
        expect(Math.sqrt(1 - 1 / (gamma * gamma)) * n).toBeCloseTo(1, 12);
      }),
    );
  });

  it.each([
    [1.33, 41.2465],
    [1.49, 47.8448],
    [1.59, 51.0287],
  ])("LIGHT-6: in a medium of index %d the cone's half angle is %d°", (n, angle) => {
    expect(cherenkovAngle(n)).toBeCloseTo(angle, 4);
  });

  it("LIGHT-6: its cosine is 1/n, and 60° belong to the index 2", () => {
    expect(cherenkovAngle(2)).toBeCloseTo(60, 12);
    fc.assert(
      fc.property(index, (n) => {
        expect(Math.cos((cherenkovAngle(n) * Math.PI) / 180) * n).toBeCloseTo(1, 12);
      }),
    );
  });

  it.each([
    [1.33, 213.538],
    [1.49, 269.98],
    [1.59, 296.938],
  ])("LIGHT-7: in a medium of index %d a fast electron gives %d photons per cm from 400 to 700 nm", (n, photons) => {
    expect(cherenkovPhotonsPerCentimetre(n, 400, 700)).toBeCloseTo(photons, 3);
  });

  it("LIGHT-7: two bands side by side give what both give together, and the blue half gives more", () => {
    const blue = cherenkovPhotonsPerCentimetre(1.49, 400, 550);
    const red = cherenkovPhotonsPerCentimetre(1.49, 550, 700);
    expect(blue + red).toBeCloseTo(cherenkovPhotonsPerCentimetre(1.49, 400, 700), 10);
    expect(blue).toBeGreaterThan(red);
  });

  it("LIGHT-5: an index that is not above one is refused, by each figure", () => {
    for (const n of [1, 0.9, 0, -1.5, Number.NaN, Infinity]) {
      expect(() => cherenkovThreshold(n)).toThrow(`above one, but is ${n}`);
      expect(() => cherenkovAngle(n)).toThrow(RangeError);
      expect(() => cherenkovPhotonsPerCentimetre(n, 400, 700)).toThrow(RangeError);
    }
  });

  it("LIGHT-7: a band upside down is refused with its ends", () => {
    expect(() => cherenkovPhotonsPerCentimetre(1.49, 700, 400)).toThrow("from 700 to 400 nm");
    expect(() => cherenkovPhotonsPerCentimetre(1.49, 0, 400)).toThrow(RangeError);
    expect(() => cherenkovPhotonsPerCentimetre(1.49, 400, 400)).toThrow(RangeError);
  });
});

describe("physical constants", () => {
  // As scipy.constants 1.17 gives them from the 2022 adjustment, V2.
  it("LIGHT-5: rest energy and fine-structure constant are those of CODATA 2022, with their uncertainties", () => {
    expect(ELECTRON_REST_ENERGY).toMatchObject({ value: 510.99895069, uncertainty: 1.6e-7, unit: "keV" });
    expect(FINE_STRUCTURE_CONSTANT).toMatchObject({ value: 7.2973525643e-3, uncertainty: 1.1e-12, unit: "1" });
    for (const { source } of [ELECTRON_REST_ENERGY, FINE_STRUCTURE_CONSTANT]) expect(source).toMatch(/CODATA.*2022/);
  });
});
