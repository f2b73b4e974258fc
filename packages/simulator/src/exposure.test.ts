import { expect, test } from "vitest";
import { type Exposure, expose, volumeCorrection } from "./exposure.ts";
import { type Laboratory, noiseless } from "./laboratory.ts";
import type { Output } from "./output-course.ts";
import type { Shot } from "./shot.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { noErrors, referenceShot } from "./testing/one-shot.ts";
import type { TypeBErrors } from "./type-b-errors.ts";

const quiet = noiseless(standardLaboratory());
const cone = { name: "cone-5", aperture: { shape: "circle", diameter_mm: 5 }, fibre_mm: 12.5 } as const;
const plain: Output = { expected: 1, delivered: 1 };

function one(shot: Partial<Shot>, errors: Partial<TypeBErrors> = {}, laboratory: Laboratory = quiet): Exposure {
  return expose(laboratory, [referenceShot(shot)], [plain], noErrors(errors), 1)[0]!;
}

test("200 MU in the reference field give 1.6 Gy and their light", () => {
  const { centreDose_Gy, volumeDose_Gy, light_nC, signals_nC, monitor, chamber_Gy } = one({});
  expect(centreDose_Gy).toBe(1.6);
  expect(volumeDose_Gy).toBeCloseTo(1.6, 12);
  // synthetic set A for 1 Gy, docs/job.md 0, with the scintillation of 21.8 °C
  const warmth = 1 - 0.0009 * -0.2;
  expect(light_nC[0]).toBeCloseTo(1.6 * (5 * warmth + 1.5), 12);
  expect(light_nC[1]).toBeCloseTo(1.6 * (1.5 * warmth + 2), 12);
  expect(signals_nC[0]).toBeCloseTo(light_nC[0] + 0.036, 12);
  expect(monitor).toBeCloseTo(12.34, 12);
  expect(chamber_Gy).toBe(1.6);
});

test("with the beam off there is the dark reading alone", () => {
  const { field: _, ...dark } = referenceShot({ series: "background", mu: 0 });
  const [exposure] = expose(quiet, [dark], [plain], noErrors(), 1);
  expect(exposure).toMatchObject({ centreDose_Gy: 0, volumeDose_Gy: 0, light_nC: [0, 0], chamber_Gy: 0 });
  expect(exposure!.signals_nC).toEqual([expect.closeTo(0.036, 12), expect.closeTo(0.0192, 12)]);
  expect(exposure!.monitor).toBeUndefined();
});

test("in a small field the detector averages, and off the centre it loses more", () => {
  const small = (shot: Partial<Shot>, errors: Partial<TypeBErrors> = {}) => {
    const { centreDose_Gy, volumeDose_Gy } = one({ field: cone, condition: "cone-5", ...shot }, errors);
    return volumeDose_Gy / centreDose_Gy;
  };
  expect(small({})).toBeLessThan(0.99);
  expect(small({ displaced_mm: [0.5, 0] })).toBeLessThan(small({}) - 0.01);
  expect(small({}, { displacement_mm: () => [0.5, 0] })).toBe(small({ displaced_mm: [0.5, 0] }));
  // a true loss of twice that of the profile
  expect(1 / small({}, { averaging: () => 2 }) - 1).toBeCloseTo(2 * (1 / small({}) - 1), 12);
});

test("a point at the centre averages over nothing, and a point off it loses what the profile falls by", () => {
  const point = { ...quiet, effects: { ...quiet.effects, volumeAveraging: false } };
  const seen = (shot: Partial<Shot>) => {
    const { centreDose_Gy, volumeDose_Gy } = one({ field: cone, ...shot }, {}, point);
    return volumeDose_Gy / centreDose_Gy;
  };
  expect(seen({})).toBe(1);
  // Gaussian bound of docs/job.md T7: 0.5 mm off in a field of 5 mm loses 2.7 %
  expect(seen({ displaced_mm: [0.5, 0] })).toBeGreaterThan(0.973);
  expect(seen({ displaced_mm: [0.5, 0] })).toBeLessThan(0.99);
});

test("the true correction divides the light of every field but the reference, and not the dose", () => {
  const errors = { outputCorrection: 1.01, temperatureCoefficient_perK: 0 };
  const scintillation = ({ light_nC }: Exposure) => light_nC[0] - 0.75 * light_nC[1];
  const cool = { temperatureCoefficient_perK: 0 };
  const ratio = (shot: Partial<Shot>) => scintillation(one(shot, errors)) / scintillation(one(shot, cool));
  expect(ratio({})).toBeCloseTo(1, 12);
  expect(ratio({ field: cone, condition: "cone-5" })).toBeCloseTo(1 / 1.01, 12);
  expect(ratio({ series: "separation", condition: "short" })).toBeCloseTo(1, 12);
  expect(one({ field: cone, condition: "cone-5" }, errors).volumeDose_Gy).toBe(
    one({ field: cone, condition: "cone-5" }).volumeDose_Gy,
  );
});

test("equality of dose is a matter of the separation, and no chamber sees it", () => {
  const errors = { doseEquality: () => 1.01 };
  const unequal = one({ series: "separation", condition: "long" }, errors);
  expect(unequal.centreDose_Gy).toBeCloseTo(1.616, 12);
  expect(unequal.chamber_Gy).toBe(1.6);
  expect(one({}, errors).centreDose_Gy).toBe(1.6);
});

test("what befalls the detector is not seen by monitor and chamber; what befalls the output is", () => {
  const moved = one({ dose: 1.1 });
  expect(moved.centreDose_Gy).toBeCloseTo(1.76, 12);
  expect([moved.monitor, moved.chamber_Gy]).toEqual([expect.closeTo(12.34, 12), 1.6]);
  const stepped = one({ output: 1.1 });
  expect(stepped.centreDose_Gy).toBeCloseTo(1.76, 12);
  expect(stepped.monitor).toBeCloseTo(13.574, 12);
  expect(stepped.chamber_Gy).toBeCloseTo(1.76, 12);
  expect(one({ monitor: 1.1 })).toMatchObject({ centreDose_Gy: 1.6, monitor: expect.closeTo(13.574, 12) as number });
});

test("light, stem light and light from elsewhere can be changed by channel", () => {
  const base = one({});
  const [a, b] = base.light_nC;
  expect(one({ light: [0.9, 1] }).light_nC).toEqual([expect.closeTo(0.9 * a, 12), expect.closeTo(b, 12)]);
  expect(one({ stem: [1, 2] }).light_nC).toEqual([expect.closeTo(a, 12), expect.closeTo(b + 3.2, 12)]);
  const lit = one({ extraRate_perS: [0.01, 0.02] }).signals_nC;
  expect(lit).toEqual([expect.closeTo(base.signals_nC[0] + 0.3, 12), expect.closeTo(base.signals_nC[1] + 0.6, 12)]);
});

test("each reading's dose ages the fibre for the next", () => {
  const yellowing = { ...quiet, fibre: { ...quiet.fibre, yellowing_perKGy: [100, 0] as const } };
  const shots = [0, 1, 2].map((number) => referenceShot({ number }));
  const light = expose(yellowing, shots, [plain, plain, plain], noErrors(), 1).map(({ light_nC }) => light_nC[0]);
  expect(light[1]! / light[0]!).toBeCloseTo(1 - 0.16, 10);
  expect(light[2]! / light[0]!).toBeCloseTo(1 - 0.32, 10);
});

test("pulses move what is delivered, and not what was to be expected", () => {
  const noisy = { ...quiet, effects: { ...quiet.effects, noise: true } };
  const [exposure] = expose(noisy, [referenceShot()], [{ expected: 1.01, delivered: 1.02 }], noErrors(), 1);
  expect(exposure!.centreDose_Gy).toBeCloseTo(1.6 * 1.02, 12);
  expect(exposure!.expectedDose_Gy).toBeCloseTo(1.6 * 1.01, 10);
});

test("where the temperature is not read it is that of the series, and else that of the room at the time", () => {
  expect(one({ time_s: 7200 }).temperature_C).toBeCloseTo(22, 12);
  const { physicist } = quiet;
  const unread = { ...quiet, physicist: { ...physicist, writes: { ...physicist.writes, temperature: false } } };
  expect(one({ time_s: 7200 }, { temperature_C: () => 19 }, unread).temperature_C).toBe(19);
});

test("the correction for averaging is one over the mean, its loss scaled", () => {
  expect(volumeCorrection(0.8, 1)).toBe(1.25);
  expect(volumeCorrection(0.8, 2)).toBe(1.5);
  expect(volumeCorrection(1, 7)).toBe(1);
});
