import { expect, test } from "vitest";
import { noiseless } from "./laboratory.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { correlation, moments, spreadTolerance } from "./testing/moments.ts";
import { drawTypeB, type TypeBErrors } from "./type-b-errors.ts";

const COUNT = 6000;
const laboratory = {
  ...standardLaboratory(),
  physicist: {
    ...standardLaboratory().physicist,
    stated: { ...standardLaboratory().physicist.stated, intermediateLink: { value: 0.903, u: 0.004 } },
  },
};
const campaigns = Array.from({ length: COUNT }, (_, seed) => drawTypeB(laboratory, seed));
const sample = (value: (errors: TypeBErrors) => number) => campaigns.map(value);

test.each<[string, (errors: TypeBErrors) => number, number, number]>([
  ["temperature coefficient", (e) => e.temperatureCoefficient_perK, -0.0009, 0.0003],
  ["output correction", (e) => e.outputCorrection, 1, 0.005],
  ["intermediate link", (e) => e.intermediateLink, 0.903, 0.004],
  ["calibration dose", (e) => e.calibrationDose, 1, 0.007],
  ["temperature that nobody reads", (e) => e.temperature_C("separation"), 22, 1],
  ["equality of dose", (e) => e.doseEquality("long"), 1, 0.001],
  ["dose of a group", (e) => e.groupDose("a"), 1, 0.005],
  ["width along x", (e) => e.fieldWidth_mm("cone-5")[0], 0, 0.1],
  ["width along y", (e) => e.fieldWidth_mm("cone-5")[1], 0, 0.1],
  ["place along x", (e) => e.displacement_mm(3)[0], 0, 0.1],
  ["place along y", (e) => e.displacement_mm(3)[1], 0, 0.1],
  ["loss by averaging", (e) => e.averaging("cone-5"), 1, 0.25],
])("the error of the %s has the stated mean and standard deviation, and is normal", (_, value, mean, u) => {
  const own = moments(sample(value));
  expect(Math.abs(own.mean - mean)).toBeLessThan((4 * u) / Math.sqrt(COUNT));
  expect(Math.abs(own.sd / u - 1)).toBeLessThan(spreadTolerance(COUNT));
  expect(Math.abs(own.kurtosis - 3)).toBeLessThan(4 * Math.sqrt(24 / COUNT));
});

test("errors of different conditions and kinds are independent, and one condition keeps its error", () => {
  const pairs: [(e: TypeBErrors) => number, (e: TypeBErrors) => number][] = [
    [(e) => e.doseEquality("long"), (e) => e.doseEquality("short")],
    [(e) => e.fieldWidth_mm("a")[0], (e) => e.fieldWidth_mm("a")[1]],
    [(e) => e.displacement_mm(1)[0], (e) => e.displacement_mm(2)[0]],
    [(e) => e.outputCorrection, (e) => e.calibrationDose],
    [(e) => e.temperature_C("separation"), (e) => e.temperature_C("calibration")],
  ];
  for (const [a, b] of pairs) expect(Math.abs(correlation(sample(a), sample(b)))).toBeLessThan(4 / Math.sqrt(COUNT));
  const [errors] = campaigns;
  expect(errors!.doseEquality("long")).toBe(errors!.doseEquality("long"));
});

test("the true blur of the edges lies anywhere between the stated one ± √3·u, all alike", () => {
  const blurs = sample((e) => e.penumbraSigma_mm);
  const { mean, sd, kurtosis } = moments(blurs);
  expect(Math.abs(mean - 1.5)).toBeLessThan((4 * 0.29) / Math.sqrt(COUNT));
  expect(Math.abs(sd / 0.29 - 1)).toBeLessThan(spreadTolerance(COUNT));
  // a rectangular distribution has a kurtosis of 9/5, and ends
  expect(Math.abs(kurtosis - 1.8)).toBeLessThan(4 * Math.sqrt(24 / COUNT));
  const half = Math.sqrt(3) * 0.29;
  expect(Math.min(...blurs)).toBeGreaterThanOrEqual(1.5 - half);
  expect(Math.max(...blurs)).toBeLessThanOrEqual(1.5 + half);
  expect(Math.max(...blurs)).toBeGreaterThan(1.5 + 0.99 * half);
});

test("a blur that could be nothing is refused", () => {
  const { physicist } = laboratory;
  const vague = {
    ...laboratory,
    physicist: { ...physicist, stated: { ...physicist.stated, penumbraSigma_u_mm: 0.8 } },
  };
  expect(() => drawTypeB(vague, 1)).toThrow("half of it at the most");
});

test("without errors everything is as stated", () => {
  const errors = drawTypeB(noiseless(laboratory), 5);
  expect(errors).toMatchObject({
    temperatureCoefficient_perK: -0.0009,
    outputCorrection: 1,
    intermediateLink: 0.903,
    calibrationDose: 1,
    penumbraSigma_mm: 1.5,
  });
  expect([errors.temperature_C("x"), errors.doseEquality("x"), errors.groupDose("x")]).toEqual([22, 1, 1]);
  expect([errors.fieldWidth_mm("x"), errors.displacement_mm(0), errors.averaging("x")]).toEqual([[0, 0], [0, 0], 1]);
});

test("the detector stays at the centre where misplacement is left out, while the other errors go on", () => {
  const centred = { ...laboratory, effects: { ...laboratory.effects, misplacement: false } };
  expect(drawTypeB(centred, 5).displacement_mm(0)).toEqual([0, 0]);
  expect(drawTypeB(centred, 5).calibrationDose).toBe(drawTypeB(laboratory, 5).calibrationDose);
});
