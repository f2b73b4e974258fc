import { readFileSync, writeFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import formats from "ajv-formats";
import { describe, expect, test } from "vitest";
import { formatSchema } from "./format-schema.ts";
import { interpret } from "./readings.ts";
import { SAMPLE_TABLES, sampleCampaign, sampleDescriptor } from "./testing/sample-campaign.ts";

const FILE = new URL("../../../docs/format.schema.json", import.meta.url);
const generated = `${JSON.stringify(formatSchema(), undefined, 2)}\n`;

const ajv = new Ajv2020({ strict: true, allErrors: true });
formats(ajv);
const validate = ajv.compile(formatSchema());

test("the published schema is the one that the code has: renew it with UPDATE=1 npx vitest run format-schema", () => {
  if (process.env["UPDATE"] === "1") writeFileSync(FILE, generated);
  expect(readFileSync(FILE, "utf8")).toBe(generated);
});

describe("an outside validator with the published schema", () => {
  test("accepts the example of the format", () => {
    expect(validate(sampleDescriptor()) || validate.errors).toBe(true);
  });

  test("accepts the example in the description of the format", () => {
    const text = readFileSync(new URL("../../../docs/format.md", import.meta.url), "utf8");
    const [, example] = /```json\n(\{\s*"\$schema"[\s\S]*?)```/.exec(text)!;
    expect(validate(JSON.parse(example!)) || validate.errors).toBe(true);
  });

  test.each([
    ["an unknown key", (json: ReturnType<typeof sampleDescriptor>) => Object.assign(json.alcedo.beam, { depht_mm: 1 })],
    ["one channel", (json: ReturnType<typeof sampleDescriptor>) => (json.alcedo.detector.channels = ["blue"])],
    ["a negative depth", (json: ReturnType<typeof sampleDescriptor>) => (json.alcedo.beam.depth_mm = -1)],
    [
      "a length of nil",
      (json: ReturnType<typeof sampleDescriptor>) => (json.alcedo.detector.activeVolume!.length_mm = 0),
    ],
    ["another version", (json: ReturnType<typeof sampleDescriptor>) => Object.assign(json.alcedo, { version: 2 })],
    ["no tables", (json: ReturnType<typeof sampleDescriptor>) => (json.resources = [])],
  ])("refuses %s", (_, change) => {
    const json = sampleDescriptor();
    change(json);
    expect(validate(json)).toBe(false);
  });

  test.each(["background", "separation", "calibration", "output-factors"] as const)(
    "accepts the readings of the example's %s table, their cells typed",
    (series) => {
      const check = ajv.compile({ $ref: `#/$defs/${series}-reading`, $defs: formatSchema()["$defs"] as object });
      const { readings } = interpret(sampleCampaign()).series[series]!;
      const columns = SAMPLE_TABLES[series].split("\n")[0]!.split(",");
      const numeric = /^(duration_s|mu|monitor|.*_(mm|Gy|percent|C)|signal_.*|k_volume.*)$/;
      const rows = SAMPLE_TABLES[series]
        .split("\n")
        .slice(1)
        .map((row) => row.split(","));
      for (const { row } of readings) {
        const cells = columns.flatMap((name, i) => {
          const cell = rows[row - 1]![i]!;
          return cell === "" ? [] : [[name, numeric.test(name) ? Number(cell) : cell] as const];
        });
        expect(check(Object.fromEntries(cells)) || check.errors).toBe(true);
      }
    },
  );

  test("refuses a reading without its id, an impossible dose and a role that is none", () => {
    const check = ajv.compile({ $ref: "#/$defs/separation-reading", $defs: formatSchema()["$defs"] as object });
    const sound = { reading: "s1", condition: "min", signal_blue: 6.5, dose_group: "a", role: "fit" };
    expect(check(sound)).toBe(true);
    const { reading: _, ...anonymous } = sound;
    expect(check(anonymous)).toBe(false);
    expect(check({ ...sound, dose_Gy: -1 })).toBe(false);
    expect(check({ ...sound, role: "Fit" })).toBe(false);
    expect(check({ ...sound, signal_blue: "6.5" })).toBe(false);
  });
});
