import { expect, test } from "vitest";
import { ASSUMPTION_DEFAULTS, type Assumptions, resolveAssumptions } from "./assumptions.ts";
import { readDescriptor } from "./read-descriptor.ts";
import { sampleDescriptor } from "./testing/sample-campaign.ts";

test("a campaign that states everything leaves no default", () => {
  const descriptor = sampleDescriptor();
  descriptor.alcedo.assumptions!.positioning_u_mm = 0.3;
  const { values, defaulted } = resolveAssumptions(descriptor);
  expect(defaulted).toEqual([]);
  expect(values.positioning_u_mm).toBe(0.3);
  expect(values.penumbraSigma_mm).toEqual({ value: 1.5, u: 0.29 });
});

test("a campaign that states nothing gets every default, by name, and stays as typed", () => {
  const descriptor = sampleDescriptor();
  delete descriptor.alcedo.assumptions;
  delete descriptor.alcedo.criteria;
  delete descriptor.alcedo.detector.temperatureCoefficient_perK;
  const before = JSON.stringify(descriptor);
  const { values, defaulted } = resolveAssumptions(descriptor);
  // The figures of the format's description.
  expect(values).toEqual({
    doseEquality_u_percent: 0.1,
    positioning_u_mm: 0.1,
    fieldWidth_u_mm: 0.1,
    penumbraSigma_mm: { value: 1.5, u: 0.29 },
    referenceTemperature_C: 22,
    temperature_u_C: 1,
    outputCorrection: { value: 1, u: 0.005 },
    intermediateLink: { value: 1, u: 0 },
    temperatureCoefficient_perK: { value: -0.001, u: 0.0003 },
    separationResidual_percent: 0.5,
    characterisationAge_days: 365,
    characterisationDose_Gy: 1000,
  });
  // the last two judge a characterisation from another day, and there is none
  expect(defaulted).toHaveLength(Object.keys(values).length - 2);
  expect(defaulted).toContain("alcedo.detector.temperatureCoefficient_perK");
  expect(defaulted).toContain("alcedo.criteria.separationResidual_percent");
  expect(JSON.stringify(descriptor)).toBe(before);
});

test("a stated value that equals the default is still stated", () => {
  const descriptor = sampleDescriptor();
  descriptor.alcedo.assumptions = { temperature_u_C: 1 };
  const { defaulted } = resolveAssumptions(descriptor);
  expect(defaulted).not.toContain("alcedo.assumptions.temperature_u_C");
  expect(defaulted).toContain("alcedo.assumptions.positioning_u_mm");
});

test.each(Object.entries(ASSUMPTION_DEFAULTS))(
  "the default of %s is valid at the key that overrides it",
  (name, { key, value, source }) => {
    const json = sampleDescriptor();
    const [, section, last] = key.split(".") as [string, "assumptions" | "criteria" | "detector", string];
    expect(last).toBe(name);
    Object.assign(json.alcedo[section] as object, { [last]: value });
    expect(readDescriptor(json).findings).toEqual([]);
    expect(resolveAssumptions(json).values[name as keyof Assumptions]).toEqual(value);
    expect(source).not.toBe("");
  },
);

test("an output correction that a table replaces is nobody's default, and stated or not it does not count", () => {
  const descriptor = sampleDescriptor();
  expect(resolveAssumptions(descriptor).replaced).toEqual([]);
  descriptor.resources.push({ name: "k", path: "k.csv", alcedo: { series: "output-corrections" } });
  expect(resolveAssumptions(descriptor).replaced).toEqual(["alcedo.assumptions.outputCorrection"]);
  delete descriptor.alcedo.assumptions;
  const { defaulted } = resolveAssumptions(descriptor);
  expect(defaulted).not.toContain("alcedo.assumptions.outputCorrection");
  expect(defaulted).toContain("alcedo.assumptions.intermediateLink");
});
