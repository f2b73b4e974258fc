import { expect, test } from "vitest";
import { type Laboratory, noiseless, pointDetector } from "./laboratory.ts";
import { withMistake } from "./mistakes/catalogue.ts";
import { simulate } from "./simulate.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { moments } from "./testing/moments.ts";
import { trueQuantities } from "./truth.ts";

const link = (laboratory: Laboratory, value: number, u: number): Laboratory => ({
  ...laboratory,
  physicist: { ...laboratory.physicist, stated: { ...laboratory.physicist.stated, intermediateLink: { value, u } } },
});

test("ratio and coefficient are those of fibre and gain, whatever the seed", () => {
  for (const seed of [1, 2]) {
    const { truth } = simulate(standardLaboratory(), seed);
    expect(truth.stemRatio).toBeCloseTo(0.75, 14);
    expect(truth.coefficient_GyPerNC).toBeCloseTo(0.2580645, 7);
  }
  const laboratory = standardLaboratory();
  const gained = { ...laboratory, reader: { ...laboratory.reader, gain: [2, 1] as const } };
  expect(simulate(gained, 1).truth.stemRatio).toBeCloseTo(1.5, 14);
});

test("output factors are those of the dose at a point, not of what the detector sees", () => {
  const full = simulate(standardLaboratory(), 1).truth;
  const point = simulate(pointDetector(standardLaboratory()), 1).truth;
  expect(full.outputFactors).toEqual(point.outputFactors);
  expect(Object.keys(full.outputFactors)).toEqual(["60x60", "30x30", "20x16", "10x10", "cone-7.5", "cone-5"]);
  expect(point.volumeAveraging["cone-5"]).toBe(1);
  expect(full.volumeAveraging["cone-5"]).toBeGreaterThan(1.005);
});

test("the true link is drawn, and the output factors are linked by it", () => {
  const base = simulate(standardLaboratory(), 6).truth.outputFactors["10x10"]!;
  const fixed = simulate(link(standardLaboratory(), 0.9, 0), 6).truth;
  expect(fixed.outputFactors["10x10"]).toBeCloseTo(0.9 * base, 14);
  const drawn = simulate(link(standardLaboratory(), 0.9, 0.01), 6).truth;
  expect(drawn.intermediateLink).not.toBe(0.9);
  expect(drawn.outputFactors["10x10"]! / base).toBeCloseTo(drawn.intermediateLink, 14);
});

test("a place is given for each time that a field was set up, and the mean loss is that of a Gaussian field", () => {
  const laboratory = standardLaboratory();
  const losses = Array.from({ length: 200 }, (_, seed) => {
    const { positioning } = simulate(laboratory, seed).truth;
    expect(positioning["100x100"]).toEqual([expect.closeTo(1, 9), expect.closeTo(1, 9), expect.closeTo(1, 9)]);
    return positioning["cone-5"]![0]! - 1;
  });
  expect(Math.min(...losses)).toBeGreaterThan(0);
  // 1/L − 1 ≈ 4 ln 2 (δ/F)² with ⟨δ²⟩ = 2·0.1² mm² and F = 4.98 mm: 0.22 %, an upper bound for a field with a flat top
  // (docs/job.md T7)
  const { mean } = moments(losses);
  expect(mean).toBeGreaterThan(0.0012);
  expect(mean).toBeLessThan(0.0024);
});

test("doses are those to be expected, and delivered ones those with the pulses' fluctuation", () => {
  const { truth } = simulate(
    pointDetector({ ...standardLaboratory(), beam: { ...standardLaboratory().beam, pulseSpread: 0.5 } }),
    3,
  );
  const [expected, delivered] = [truth.doses_Gy, truth.deliveredDoses_Gy].map((doses) => doses["output-factors"]!);
  expect(expected!["100x100"]).toBeCloseTo(1.6, 12);
  expect(expected!["10x10"]! / 1.6).toBeCloseTo(truth.outputFactors["10x10"]!, 12);
  expect(Math.abs(delivered!["100x100"]! / 1.6 - 1)).toBeGreaterThan(1e-4);
  expect(truth.doses_Gy.separation!["long"]! / 1.6 - 1).not.toBe(0);
});

test("a mistake spoils readings, not the truth; doses are those that the detector got", () => {
  const laboratory = pointDetector(standardLaboratory());
  const clean = simulate(laboratory, 5).truth;
  const spoilt = simulate(withMistake(laboratory, "dose-unequal", 3), 5).truth;
  expect(spoilt.stemRatio).toBe(clean.stemRatio);
  expect(spoilt.outputFactors).toEqual(clean.outputFactors);
  expect(spoilt.doses_Gy.separation!["long"]! / clean.doses_Gy.separation!["long"]!).toBeCloseTo(1.03, 12);
  expect(spoilt.doses_Gy.separation!["half"]).toBe(clean.doses_Gy.separation!["half"]);
  expect(spoilt.mistakes).toEqual([
    { kind: "dose-unequal", size: 3, places: [{ series: "separation", condition: "long" }] },
  ]);
});

test("equivalent squares follow the true widths", () => {
  const { equivalentSquares } = simulate(noiseless(standardLaboratory()), 1).truth;
  expect(equivalentSquares["20x16"]).toBeCloseTo(Math.sqrt(320), 3);
  // FWHM of a disc of 5 mm under σ = 1.5 mm: 4.979350 (scipy, C); times √π/2
  expect(equivalentSquares["cone-5"]).toBeCloseTo(4.97934953696126 * 0.886226925452758, 9);
});

test("the quantities carry the ids that results report them by", () => {
  const { truth } = simulate(noiseless(standardLaboratory()), 1);
  const known = trueQuantities(truth);
  expect(known.get("separation.stem-ratio")).toBe(truth.stemRatio);
  expect(known.get("output-factor.cone-5")).toBe(truth.outputFactors["cone-5"]);
  expect(known.get("dose.calibration.reference")).toBe(truth.doses_Gy.calibration!["reference"]);
  expect(known.get("stem-load.separation.long")).toBeCloseTo(17.5 / 3.875, 2);
  expect(known.get("background.green")).toBeCloseTo(0.000646, 6);
  expect([...known.keys()].filter((id) => id.startsWith("positioning"))).toEqual([]);
});

test("without a background there is no rate to know", () => {
  const { physicist } = standardLaboratory();
  const { background: _, ...plan } = physicist.plan;
  const { truth, campaign } = simulate({ ...standardLaboratory(), physicist: { ...physicist, plan } }, 1);
  expect(truth.backgroundRates_perS).toBeUndefined();
  expect(Object.keys(campaign.tables)).toEqual(["separation", "calibration", "output-factors"]);
  expect(campaign.tables["separation"]!.columns).not.toContain("duration_s");
});
