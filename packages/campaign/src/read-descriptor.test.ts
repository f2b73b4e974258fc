import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { outlineOf, readDescriptor } from "./read-descriptor.ts";
import { sampleDescriptor } from "./testing/sample-campaign.ts";

type Json = Record<string, unknown>;

/** The sample as loose JSON, to be made wrong at will. */
function loose() {
  return JSON.parse(JSON.stringify(sampleDescriptor())) as {
    alcedo: { detector: Json; beam: Json; assumptions: Json; criteria: Json } & Json;
    resources: (Json & { alcedo: Json })[];
  } & Json;
}

const faults = (json: unknown) =>
  readDescriptor(json).findings.map(({ code, where, message }) => [code, where?.key, message] as const);

test("the example of the format is valid, and comes back as typed with no default filled in", () => {
  const json = loose();
  json.alcedo.assumptions = {};
  const { descriptor, findings } = readDescriptor(json);
  expect(findings).toEqual([]);
  expect(descriptor).toBe(json);
  expect(descriptor?.alcedo.assumptions).toEqual({});
});

test("what is optional may be left out", () => {
  const json = {
    name: "least",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B", modality: "electron", energy_MeV: 9 },
    },
    resources: [{ name: "a", path: "a.csv", alcedo: { series: "separation" } }],
  };
  expect(readDescriptor(json).findings).toEqual([]);
});

test("keys of the Data Package standard are welcome around our own", () => {
  const json = {
    ...loose(),
    id: "b1",
    version: "1.0.0",
    created: "2026-03-14T00:00:00Z",
    keywords: ["cones"],
    licenses: [{ name: "CC0-1.0" }],
    contributors: [{ title: "A. Physicist", organization: "x" }],
    sources: [{ title: "notebook 4" }],
    description: "d",
    homepage: "h",
    image: "i.png",
    profile: "p",
  };
  Object.assign(json.resources[0]!, {
    title: "Background",
    description: "lights off",
    format: "csv",
    mediatype: "text/csv",
    encoding: "UTF-8",
    bytes: 120,
    hash: "sha256:00",
    type: "table",
    dialect: { delimiter: ";", header: true },
    schema: { fields: [{ name: "reading", type: "string" }], missingValues: [""], primaryKey: ["reading"] },
  });
  expect(readDescriptor(json).findings).toEqual([]);
});

test("all faults come in one go, each at its key", () => {
  const json = loose();
  delete (json as Json)["name"];
  json["titel"] = "x";
  Object.assign(json.alcedo.detector, { channels: ["blue"], signalUnit: 1, axis: "sideways" });
  Object.assign(json.alcedo.beam, { ssd_mm: -900, magnet: 1 });
  json.alcedo.assumptions["penumbraSigma_mm"] = { value: 1.5 };
  json.resources[1]!["path"] = "/etc/passwd";
  json.resources[2]!.alcedo["series"] = "separation";
  expect(
    faults(json)
      .map(([code, key]) => `${code} ${key}`)
      .sort(),
  ).toEqual(
    [
      "key-missing /name",
      "key-unknown /titel",
      "value-form /alcedo/detector/channels",
      "value-type /alcedo/detector/signalUnit",
      "value-choice /alcedo/detector/axis",
      "value-range /alcedo/beam/ssd_mm",
      "key-unknown /alcedo/beam/magnet",
      "key-missing /alcedo/assumptions/penumbraSigma_mm/u",
      "path-outside /resources/1/path",
      "series-duplicate /resources/2/alcedo/series",
    ].sort(),
  );
  expect(readDescriptor(json).descriptor).toBeUndefined();
});

test("a blur that is known to less than half of itself is refused, with what the figure is for", () => {
  const json = loose();
  json.alcedo.assumptions["penumbraSigma_mm"] = { value: 1.5, u: 0.75 };
  expect(faults(json)).toEqual([]);
  json.alcedo.assumptions["penumbraSigma_mm"] = { value: 1.5, u: 0.8 };
  expect(faults(json)).toEqual([
    [
      "value-range",
      "/alcedo/assumptions/penumbraSigma_mm/u",
      "datapackage.json: alcedo.assumptions.penumbraSigma_mm.u is 0.8, more than half of the value 1.5: the blur is drawn between value ± √3·u, which must stay above zero.",
    ],
  ]);
});

describe("a key that is unknown", () => {
  test("is named with the nearest known one", () => {
    const json = loose();
    json.alcedo.assumptions["positioning_mm"] = 0.1;
    expect(faults(json)).toEqual([
      [
        "key-unknown",
        "/alcedo/assumptions/positioning_mm",
        'datapackage.json: alcedo.assumptions has the unknown key "positioning_mm"; the nearest known one is positioning_u_mm.',
      ],
    ]);
  });

  test("is found inside lists as well, and listed against the known ones where none is near", () => {
    const json = loose();
    json.resources[0]!.alcedo["qqqqqqqq"] = 1;
    const [finding] = readDescriptor(json).findings;
    expect(finding?.where?.key).toBe("/resources/0/alcedo/qqqqqqqq");
    expect(finding?.remedy).toBe("Remove the key; known here are series.");
  });

  test("called __proto__ is no way in", () => {
    const json = JSON.parse(
      JSON.stringify(loose()).replace('"version":1', '"version":1,"__proto__":{"x":1}'),
    ) as unknown;
    expect(faults(json).map(([code]) => code)).toEqual(["key-unknown"]);
  });
});

test.each([
  ["null", null],
  ["a list", []],
  ["a text", "x"],
  ["a number", 1],
])("%s in place of the descriptor is told as such", (_, json) => {
  const { descriptor, outline, findings } = readDescriptor(json);
  expect(descriptor).toBeUndefined();
  expect(outline).toBeUndefined();
  expect(findings.map(({ code }) => code)).toEqual(["value-type"]);
  expect(findings[0]?.message).toMatch(/^datapackage.json: the top level is /);
});

test.each([
  ["alcedo.beam.energy_MV", "energy_MV", 6000],
  ["alcedo.beam.ssd_mm", "ssd_mm", 0],
  ["alcedo.beam.depth_mm", "depth_mm", -1],
  ["alcedo.beam.magneticField_T", "magneticField_T", 1500],
])("%s cannot be impossible", (name, key, value) => {
  const json = loose();
  json.alcedo.beam[key] = value;
  const [finding] = readDescriptor(json).findings;
  expect(finding).toMatchObject({ code: "value-range", where: { key: `/alcedo/beam/${key}` } });
  expect(finding?.message).toContain(`${name} is ${value}; it must lie `);
});

test.each([
  ["referenceTemperature_C", 295.15, "between -20 and 60 °C"],
  ["referenceTemperature_C", 72, "between -20 and 60 °C"],
  ["doseEquality_u_percent", 21, "between 0 and 20 %"],
  ["positioning_u_mm", -0.1, "between 0 and 20 mm"],
  ["temperature_u_C", -1, "between 0 and 20 °C"],
])("an assumption %s of %d lies outside what is possible: %s", (key, value, words) => {
  const json = loose();
  json.alcedo.assumptions[key] = value;
  const [finding] = readDescriptor(json).findings;
  expect(finding?.message).toBe(`datapackage.json: alcedo.assumptions.${key} is ${value}; it must lie ${words}.`);
});

test("uncertainties are not negative, dimensions are positive", () => {
  const json = loose();
  json.alcedo.assumptions["outputCorrection"] = { value: 1, u: -0.005 };
  json.alcedo.detector["activeVolume"] = { diameter_mm: 0, length_mm: 1 };
  expect(faults(json).map(([code, key]) => [code, key])).toEqual([
    ["value-range", "/alcedo/detector/activeVolume/diameter_mm"],
    ["value-range", "/alcedo/assumptions/outputCorrection/u"],
  ]);
});

test("a dialect that is not read is refused, never ignored", () => {
  const json = loose();
  json.resources[0]!["dialect"] = { delimiter: "|", quoteChar: "'", commentChar: "#" };
  expect(faults(json).map(([code, key]) => `${code} ${key}`)).toEqual([
    "value-choice /resources/0/dialect/delimiter",
    "value-choice /resources/0/dialect/quoteChar",
    "key-unknown /resources/0/dialect/commentChar",
  ]);
});

test("two paths that some file systems take for one are one too many", () => {
  const json = loose();
  json.resources[1]!["path"] = "Background.csv";
  expect(faults(json).map(([code, key]) => [code, key])).toEqual([["resource-duplicate", "/resources/1/path"]]);
});

test("a channel of whose name nothing can be used is an error at its place in the list", () => {
  const json = loose();
  json.alcedo.detector["channels"] = ["blue", "???"];
  expect(faults(json).map(([code, key]) => [code, key])).toEqual([["value-form", "/alcedo/detector/channels/1"]]);
});

describe("the outline", () => {
  test("of a faulty descriptor still allows to look at the tables that can be found", () => {
    const json = loose();
    delete (json as Json)["name"];
    json.resources[1]!["path"] = "../x.csv";
    json.resources[2]!["extra"] = 1;
    const { descriptor, outline } = readDescriptor(json);
    expect(descriptor).toBeUndefined();
    expect(outline?.channels).toEqual(["blue", "green"]);
    expect(outline?.resources.map(({ name, path, series }) => [name, path, series])).toEqual([
      ["background", "background.csv", "background"],
      ["output-factors", "output-factors.csv", "output-factors"],
    ]);
  });

  test.each([
    ["no channels", []],
    ["channels that are no texts", ["blue", 1]],
    ["channels that become one", ["blue", "BLUE"]],
    ["a channel without a usable name", ["blue", "--"]],
  ])("is absent with %s", (_, channels) => {
    const json = loose();
    json.alcedo.detector["channels"] = channels;
    expect(outlineOf(json)).toBeUndefined();
  });
});

test("no JSON value, however odd, makes the reading of a descriptor throw", () => {
  const anything = fc.jsonValue({ maxDepth: 4 });
  const places = ["name", "alcedo", "resources"] as const;
  fc.assert(
    fc.property(anything, fc.constantFrom(...places), (value, place) => {
      const json = { ...loose(), [place]: value };
      const { descriptor, findings } = readDescriptor(json);
      expect(descriptor === undefined).toBe(findings.some(({ level }) => level === "error"));
    }),
  );
});
