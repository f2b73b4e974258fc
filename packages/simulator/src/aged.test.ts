import { expect, test } from "vitest";
import { aged } from "./aged.ts";
import { type Irradiation, lightOf, stemRatioOf } from "./fibre.ts";
import { standardLaboratory } from "./standard-laboratory.ts";

const standard = standardLaboratory();
const laboratory = { ...standard, fibre: { ...standard.fibre, yellowing_perKGy: [0.05, 0.02] as const } };
const shot: Irradiation = {
  ...{ volumeDose_Gy: 1.5, centreDose_Gy: 1.6, fibre_mm: 80, angle_deg: 90, warmth_K: 0.4, since_Gy: 0 },
  stemFactor: [1, 1],
};

test("an aged fibre gives the light that it would give after that dose within one campaign", () => {
  const later = lightOf(laboratory.fibre, { ...shot, since_Gy: 1200 });
  const now = lightOf(aged(laboratory, 1200).fibre, shot);
  expect(now[0]).toBeCloseTo(later[0], 12);
  expect(now[1]).toBeCloseTo(later[1], 12);
});

test("channels that fade unequally have another stem ratio afterwards", () => {
  const before = stemRatioOf(laboratory.fibre, [1, 1]);
  expect(stemRatioOf(aged(laboratory, 1000).fibre, [1, 1]) / before).toBeCloseTo(0.95 / 0.98, 12);
});

test("the accumulated dose grows, and the laboratory that was given stays", () => {
  expect(aged(laboratory, 1000).fibre.accumulatedDose_Gy).toBe(1410);
  expect(laboratory.fibre.accumulatedDose_Gy).toBe(410);
  expect(aged(laboratory, 0)).toEqual(laboratory);
});

test("a fibre without light is refused", () => {
  expect(() => aged(laboratory, 20_000)).toThrow("no light of the fibre VF-1 would be left");
});
