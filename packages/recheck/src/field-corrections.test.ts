import { describe, expect, it } from "vitest";
import { atEstimates, type InputBlock } from "./elementary-input.ts";
import { Corrections } from "./field-corrections.ts";
import { assumptions, typedField } from "./testing/typed-readings.ts";
import type { ActiveVolume } from "./volume-averaging.ts";

const volume: ActiveVolume = { diameter_mm: 1, length_mm: 1, axis: "along-beam" };
const small = typedField("a", { condition: "small", fwhm_x_mm: 5, fwhm_y_mm: 5 });
const uOf = (blocks: readonly InputBlock[], key: string) =>
  Math.sqrt(blocks.find(({ keys }) => keys[0] === key)!.covariance[0]![0]!);

describe("corrections of a field", () => {
  it("are absent where they are not computed and not given", () => {
    const none = new Corrections(assumptions(), undefined);
    expect(none.of(small, atEstimates)).toEqual({});
    expect(none.inputs([small])).toEqual([]);
  });

  it("take k_volume as it was given, with its uncertainty", () => {
    const given = { ...small, k_volume: 1.02, k_volume_u: 0.003 };
    const none = new Corrections(assumptions(), undefined);
    expect(none.of(given, atEstimates)).toEqual({ volumeAveraging: 1.02 });
    expect(uOf(none.inputs([given]), "output-factors/small/k-volume")).toBeCloseTo(0.003, 15);
    const all = new Corrections(assumptions(), volume);
    expect(all.of(given, atEstimates).volumeAveraging).toBe(1.02);
    expect(all.of(given, atEstimates).positioning).toBeGreaterThan(1);
  });

  it("hold what the spread of the blur adds to the mean", () => {
    const corrections = (u: number) =>
      new Corrections({ ...assumptions(), penumbraSigma_mm: { value: 1.5, u } }, volume).of(small, atEstimates);
    // the trapezoidal rule over 1.5 ± √3·0.29, each with a blur that is known
    const n = 100;
    const half = Math.sqrt(3) * 0.29;
    let mean = 0;
    for (let i = 0; i <= n; i++) {
      const sigma_mm = 1.5 + half * ((2 * i) / n - 1);
      const { volumeAveraging } = new Corrections(assumptions(), volume).of({ ...small, sigma_mm }, atEstimates);
      mean += (i === 0 || i === n ? 0.5 : 1) * (volumeAveraging! / n);
    }
    expect(corrections(0.29).volumeAveraging).toBeCloseTo(mean, 6);
    expect(corrections(0).volumeAveraging! - mean).toBeGreaterThan(3e-4);
  });

  it("are computed from the FWHM and the assumed blur of 1.5 mm (checks.md: 1.012536, C)", () => {
    const known = { ...assumptions(), penumbraSigma_mm: { value: 1.5, u: 0 } };
    const { volumeAveraging, positioning } = new Corrections(known, volume).of(small, atEstimates);
    expect(volumeAveraging).toBeCloseTo(1.012536, 6);
    expect(positioning).toBeGreaterThan(1);
    const own = new Corrections(assumptions(), volume).of({ ...small, sigma_mm: 2 }, atEstimates);
    expect(own.volumeAveraging).toBeCloseTo(1.013898, 6);
  });

  it("share the assumed blur, and have a blur of their own where it was stated", () => {
    const own = { ...small, condition: "own", sigma_mm: 1.4, sigma_u_mm: 0.1 };
    const blocks = new Corrections(assumptions(), volume).inputs([small, own, { ...small, condition: "third" }]);
    expect(blocks.filter(({ keys }) => keys[0] === "penumbra-sigma")).toHaveLength(1);
    expect(uOf(blocks, "penumbra-sigma")).toBeCloseTo(0.29, 15);
    expect(uOf(blocks, "output-factors/own/sigma")).toBeCloseTo(0.1, 15);
  });

  it("have a quarter of k − 1 for the field model", () => {
    const blocks = new Corrections(assumptions(), volume).inputs([small]);
    expect(uOf(blocks, "output-factors/small/volume-model")).toBeCloseTo(0.012536 / 4, 6);
  });

  it("move with widths, blur, model and place", () => {
    const corrections = new Corrections(assumptions(), volume);
    const still = corrections.of(small, atEstimates);
    const moved = (moving: string, by: number) => corrections.of(small, (key) => (key === moving ? by : 0));
    expect(moved("output-factors/small/width/x", -0.5).volumeAveraging).toBeGreaterThan(still.volumeAveraging!);
    expect(moved("penumbra-sigma", -0.5).volumeAveraging).toBeLessThan(still.volumeAveraging!);
    expect(moved("output-factors/small/volume-model", 0.01).volumeAveraging).toBeCloseTo(
      still.volumeAveraging! + 0.01,
      12,
    );
    expect(moved("output-factors/small/positioning", 0.01).positioning).toBeCloseTo(still.positioning! * 1.01, 5);
    expect(corrections.of(small, atEstimates)).toEqual(still);
  });

  it("grow with a measured offset", () => {
    const corrections = new Corrections(assumptions(), volume);
    const off = corrections.of({ ...small, offset_x_mm: 0.5, offset_y_mm: 0 }, atEstimates);
    expect(off.positioning).toBeGreaterThan(corrections.of(small, atEstimates).positioning! + 0.01);
  });
});
