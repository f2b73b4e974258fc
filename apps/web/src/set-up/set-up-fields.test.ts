import type { Descriptor } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { changedWords } from "./changed-words.ts";
import { ASSUMPTIONS, BEAM, DETECTOR, FieldFault, fieldText, type SetUpField, withField } from "./set-up-fields.ts";

const base: Descriptor = {
  name: "invented",
  alcedo: {
    version: 1,
    detector: {
      id: "F-1",
      channels: ["blue", "green"],
      signalUnit: "nC",
      activeVolume: { diameter_mm: 1, length_mm: 2 },
    },
    beam: { id: "B-1", modality: "photon", flatteningFilter: false },
  },
  resources: [],
};
const field = (label: string): SetUpField =>
  [DETECTOR, BEAM, ASSUMPTIONS].flatMap(({ fields }) => fields).find((own) => own.label === label)!;

describe("a field of the set-up", () => {
  test.each([
    ["Fibre", "F-1"],
    ["Channels", "blue, green"],
    ["Active volume: length", "2"],
    ["Flattening filter", "no"],
    ["Centring", ""],
    ["Output correction", ""],
  ])("%s shows %j", (label, text) => expect(fieldText(base, field(label))).toBe(text));

  test.each([
    ["Centring", "0,25", { assumptions: { positioning_u_mm: 0.25 } }],
    ["Temperature coefficient", "−0.0009", { detector: { temperatureCoefficient_perK: { value: -0.0009 } } }],
    ["Channels", "red; blue, green", { detector: { channels: ["red", "blue", "green"] } }],
    ["Flattening filter", "yes", { beam: { flatteningFilter: true } }],
    ["Criterion of the separation", "0.5", { criteria: { separationResidual_percent: 0.5 } }],
  ])("%s takes %j", (label, text, expected) =>
    expect(withField(base, field(label), text).alcedo).toMatchObject(expected),
  );

  test("that is emptied takes its key out, and what is then empty around it", () => {
    const set = withField(base, field("Centring"), "0.1");
    expect(withField(set, field("Centring"), " ")).toEqual(base);
    const half = withField(base, field("Active volume: length"), "");
    expect(half.alcedo.detector.activeVolume).toEqual({ diameter_mm: 1 });
    expect(withField(half, field("Active volume: diameter"), "").alcedo.detector).not.toHaveProperty("activeVolume");
  });

  test("leaves the descriptor that it was made from as it is", () => {
    const before = JSON.stringify(base);
    withField(base, field("Beam"), "B-2");
    expect(JSON.stringify(base)).toBe(before);
  });

  test("of a number refuses what is none, with what to write", () => {
    expect(() => withField(base, field("Centring"), "about 1")).toThrow(FieldFault);
    expect(() => withField(base, field("Centring"), "1.2.3")).toThrow("Centring: 1.2.3 is no number. Write digits");
  });
});

test("the history says what was changed from what to what", () => {
  const after = withField(withField(base, field("Centring"), "0.1"), field("Beam"), "B-2");
  expect(changedWords(base, after)).toBe("set-up: beam.id: B-1 → B-2; assumptions.positioning_u_mm: not stated → 0.1");
});
