import fc from "fast-check";
import { expect, test } from "vitest";
import { coefficientOf, type Irradiation, lightOf, stemRatioOf } from "./fibre.ts";
import { standardLaboratory } from "./standard-laboratory.ts";

const { fibre } = standardLaboratory();
const plain: Irradiation = {
  volumeDose_Gy: 1,
  centreDose_Gy: 1,
  fibre_mm: 50,
  angle_deg: 90,
  warmth_K: 0,
  since_Gy: 0,
  stemFactor: [1, 1],
};
const close = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 12) as number);

test.each([
  // synthetic set A, docs/job.md 0 and docs/checks.md, Light, C
  ["little fibre", 1, 50, 6.5, 3.5],
  ["much fibre", 1, 400, 17, 17.5],
  ["200 mm", 1, 200, 11, 9.5],
  ["600 mm", 1, 600, 23, 25.5],
  ["a small field", 0.6, 15, 3.27, 1.26],
])("%s gives the light of the synthetic set A", (_, dose, fibre_mm, first, second) => {
  expect(lightOf(fibre, { ...plain, volumeDose_Gy: dose, centreDose_Gy: dose, fibre_mm })).toEqual(
    close([first, second]),
  );
});

test("ratio and coefficient are those of the synthetic set A", () => {
  expect(stemRatioOf(fibre, [1, 1])).toBeCloseTo(0.75, 14);
  expect(coefficientOf(fibre, [1, 1])).toBeCloseTo(0.258065, 6);
});

test("whatever the dose, the length, the angle and the gain, the true ratio and coefficient give the dose back", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.01, max: 10, noNaN: true }),
      fc.double({ min: 0, max: 1000, noNaN: true }),
      fc.double({ min: 0, max: 180, noNaN: true }),
      fc.double({ min: 0.2, max: 5, noNaN: true }),
      fc.double({ min: 0.2, max: 5, noNaN: true }),
      (dose, fibre_mm, angle_deg, first, second) => {
        const [a, b] = lightOf(fibre, { ...plain, volumeDose_Gy: dose, fibre_mm, angle_deg });
        const gain = [first, second] as const;
        const signal = first * a - stemRatioOf(fibre, gain) * second * b;
        expect((coefficientOf(fibre, gain) * signal) / dose).toBeCloseTo(1, 9);
      },
    ),
  );
});

test("warmth changes the scintillation alone", () => {
  const warm = lightOf(fibre, { ...plain, warmth_K: 10 });
  // −0.09 % per K of 5 and of 1.5 nC
  expect(warm).toEqual(close([6.5 - 0.045, 3.5 - 0.0135]));
  const dark = { ...plain, volumeDose_Gy: 0 };
  expect(lightOf(fibre, { ...dark, warmth_K: 10 })).toEqual(lightOf(fibre, dark));
});

test("Cherenkov light peaks about its angle, and fluorescence does not", () => {
  const stem = (angle_deg: number, own = fibre) => lightOf(own, { ...plain, volumeDose_Gy: 0, angle_deg })[0];
  expect(stem(45)).toBeGreaterThan(3.5 * stem(90));
  expect(stem(45)).toBeGreaterThan(stem(30));
  expect(stem(45)).toBeGreaterThan(stem(60));
  const glowing = { ...fibre, stem_perGyMm: [0, 0], fluorescence_perGyMm: [0.03, 0.04] } as const;
  expect(stem(45, glowing)).toBe(stem(90, glowing));
});

test("with fluorescence of another colour the stem ratio hangs on the angle", () => {
  const mixed = { ...fibre, fluorescence_perGyMm: [0.001, 0.004] } as const;
  const ratio = (angle_deg: number) => {
    const [a, b] = lightOf(mixed, { ...plain, volumeDose_Gy: 0, angle_deg });
    return a / b;
  };
  expect(ratio(90)).toBeCloseTo(stemRatioOf(mixed, [1, 1]), 12);
  expect(ratio(45)).toBeGreaterThan(ratio(90) * 1.02);
});

test("stem light from along the fibre is spared the attenuation between there and the tip", () => {
  const lossy = { ...fibre, attenuation_perM: [0.05, 0.02] } as const;
  const dark = { ...plain, volumeDose_Gy: 0, fibre_mm: 400 };
  // (e^{μL} − 1)/μ for L = 0.4 m: closed form, C
  const expected = [0.05, 0.02].map((mu, c) => [0.03, 0.04][c]! * ((Math.exp(mu * 0.4) - 1) / mu) * 1000);
  expect(lightOf(lossy, dark)).toEqual(expected.map((value) => expect.closeTo(value, 10) as number));
  expect(lightOf({ ...fibre, attenuation_perM: [1e-9, 1e-9] }, dark)[0]).toBeCloseTo(lightOf(fibre, dark)[0], 7);
});

test("dose yellows the fibre, the first channel more", () => {
  const yellow = { ...fibre, yellowing_perKGy: [0.02, 0.005] } as const;
  const before = lightOf(yellow, plain);
  const after = lightOf(yellow, { ...plain, since_Gy: 1000 });
  expect(after[0] / before[0]).toBeCloseTo(0.98, 12);
  expect(after[1] / before[1]).toBeCloseTo(0.995, 12);
});
