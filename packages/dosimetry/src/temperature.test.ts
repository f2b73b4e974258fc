import { describe, expect, it } from "vitest";
import { WATER_EQUIVALENT_OUTPUT_CORRECTION } from "./output-correction.ts";
import { RADIATION_DAMAGE_UPPER_FIGURE } from "./radiation-damage.ts";
import { BLUE_FIBRE_TEMPERATURE_COEFFICIENT, GREEN_FIBRE_TEMPERATURE_COEFFICIENT } from "./temperature.ts";

describe("published figures of scintillators", () => {
  // Wootton and Beddar, Phys. Med. Biol. 58 (2013), V: −0.09 % and −0.50 % per °C, relative to 22 °C.
  it("LIGHT-8: dose falls by 0.09 % per °C with a blue-emitting fibre, by 0.50 % with a green-emitting one", () => {
    expect(100 * BLUE_FIBRE_TEMPERATURE_COEFFICIENT.value).toBeCloseTo(-0.09, 12);
    expect(100 * GREEN_FIBRE_TEMPERATURE_COEFFICIENT.value).toBeCloseTo(-0.5, 12);
    for (const { unit, source } of [BLUE_FIBRE_TEMPERATURE_COEFFICIENT, GREEN_FIBRE_TEMPERATURE_COEFFICIENT]) {
      expect(unit).toBe("1/°C");
      expect(source).toMatch(/Wootton and Beddar/);
    }
  });

  it("LIGHT-8: the source gives no uncertainty, and none is made up", () => {
    expect(BLUE_FIBRE_TEMPERATURE_COEFFICIENT).not.toHaveProperty("uncertainty");
    expect(GREEN_FIBRE_TEMPERATURE_COEFFICIENT).not.toHaveProperty("uncertainty");
  });

  // arXiv 2410.00999, V: 0.999 to 1.002 for fields of 0.6 to 30 cm, u 0.5 %.
  it("LIGHT-9: the output correction of a water-equivalent scintillator is one within its uncertainty", () => {
    const { from, to, u, smallest_mm, largest_mm, source } = WATER_EQUIVALENT_OUTPUT_CORRECTION;
    expect([from, to, 100 * u]).toEqual([0.999, 1.002, 0.5]);
    expect([smallest_mm / 10, largest_mm / 10]).toEqual([0.6, 30]);
    expect(Math.max(1 - from, to - 1)).toBeLessThan(u);
    expect(source).toMatch("2410.00999");
  });

  // arXiv 2410.12535, V: below 1.85 % per kGy.
  it("LIGHT-9: radiation damage stays below 1.85 % per kGy", () => {
    expect(RADIATION_DAMAGE_UPPER_FIGURE.value * 1000 * 100).toBeCloseTo(1.85, 12);
    expect(RADIATION_DAMAGE_UPPER_FIGURE.unit).toBe("1/Gy");
    expect(RADIATION_DAMAGE_UPPER_FIGURE.source).toMatch("2410.12535");
  });
});
