import { describe, expect, test } from "vitest";
import type { Finding } from "./finding.ts";
import { readDescriptor } from "./read-descriptor.ts";
import { interpret } from "./readings.ts";
import { STRUCTURE_CODES, type StructureCode } from "./structure-codes.ts";
import { SAMPLE_TABLES, sampleCampaign, sampleDescriptor } from "./testing/sample-campaign.ts";

/** Two inputs that differ in little: one has the fault, one has not. */
interface Fixture {
  readonly fires: () => readonly Finding[];
  readonly silent: () => readonly Finding[];
}

type Json = Record<string, unknown>;

/** The sample descriptor after a change, read. */
function described(change: (json: ReturnType<typeof sampleDescriptor> & Json) => void): readonly Finding[] {
  const json = sampleDescriptor() as ReturnType<typeof sampleDescriptor> & Json;
  change(json);
  return readDescriptor(json).findings;
}

/** The sample campaign with one table's text changed from one piece to another, interpreted. */
function changed(name: keyof typeof SAMPLE_TABLES, from: string, to: string): readonly Finding[] {
  const text = SAMPLE_TABLES[name];
  if (!text.includes(from)) throw new Error(`the sample table ${name} lacks ${from}`);
  return interpret(sampleCampaign({ [name]: text.replaceAll(from, to) })).findings;
}

const sample = () => interpret(sampleCampaign()).findings;
const withChannels = (...channels: string[]) =>
  described((json) => void Object.assign(json.alcedo.detector, { channels }));
const withResource = (resource: Json) => described((json) => void json.resources.push(resource as never));
const inBeam = (key: string, value: unknown) =>
  described((json) => void Object.assign(json.alcedo.beam, { [key]: value }));
const reference = (rows: string) => {
  const text = `condition,equivalent_square_mm,output_factor,u_percent,source\n${rows}`;
  return interpret(sampleCampaign({ "reference-set": text })).findings;
};
const corrections = (rows: string) => {
  const text = `equivalent_square_mm,output_correction,u_percent,source,volume_averaging\n${rows}`;
  return interpret(sampleCampaign({ "output-corrections": text })).findings;
};
const long = (rows: number) =>
  interpret(
    sampleCampaign({ calibration: `reading,note\n${Array.from({ length: rows }, (_, i) => `c${i},`).join("\n")}` }),
  );
const many = (cell: string, rows: number, column = "signal_blue") => {
  const row = (i: number) => `c${i},ref,20,${cell},${cell},1,0.7`;
  const header = `reading,condition,duration_s,${column},signal_green,dose_Gy,dose_u_percent`;
  return interpret(
    sampleCampaign({ calibration: `${header}\n${Array.from({ length: rows }, (_, i) => row(i)).join("\n")}` }),
  );
};
const extraColumns = (count: number) => {
  const [header, ...rows] = SAMPLE_TABLES.calibration.split("\n");
  const names = Array.from({ length: count }, (_, i) => `,my remark ${i}`).join("");
  const text = [header + names, ...rows.map((row) => row + ",".repeat(count))].join("\n");
  return interpret(sampleCampaign({ calibration: text })).findings;
};

const FIXTURES: Partial<Record<StructureCode, Fixture>> = {
  "key-unknown": { fires: () => inBeam("depht_mm", 100), silent: () => inBeam("depth_mm", 100) },
  "key-missing": {
    fires: () => described((json) => void delete (json.alcedo as Partial<typeof json.alcedo>).beam),
    silent: () => described((json) => void delete json.alcedo.assumptions),
  },
  "value-type": { fires: () => inBeam("ssd_mm", "900"), silent: () => inBeam("ssd_mm", 900) },
  "value-choice": { fires: () => inBeam("modality", "photons"), silent: () => inBeam("modality", "photon") },
  "value-range": { fires: () => inBeam("depth_mm", -1), silent: () => inBeam("depth_mm", 0) },
  "value-form": { fires: () => withChannels("blue"), silent: () => withChannels("blue", "green", "red") },
  "version-unsupported": {
    fires: () => described((json) => void Object.assign(json.alcedo, { version: 2 })),
    silent: () => described((json) => void Object.assign(json.alcedo, { version: 1 })),
  },
  "energy-unit": {
    fires: () => inBeam("modality", "electron"),
    silent: () =>
      described((json) => {
        const { energy_MV, ...beam } = json.alcedo.beam;
        json.alcedo.beam = { ...beam, modality: "electron", energy_MeV: energy_MV! };
      }),
  },
  "path-outside": {
    fires: () => described((json) => void Object.assign(json.resources[0]!, { path: "../background.csv" })),
    silent: () => described((json) => void Object.assign(json.resources[0]!, { path: "data/..background.csv" })),
  },
  "resource-duplicate": {
    fires: () => withResource({ name: "background", path: "b.csv", alcedo: { series: "reference-set" } }),
    silent: () => withResource({ name: "background-2", path: "b.csv", alcedo: { series: "reference-set" } }),
  },
  "series-duplicate": {
    fires: () => withResource({ name: "other", path: "b.csv", alcedo: { series: "background" } }),
    silent: () => withResource({ name: "other", path: "b.csv", alcedo: { series: "reference-set" } }),
  },
  "series-conflict": {
    fires: () => withResource({ name: "earlier", path: "earlier.json", alcedo: { series: "characterisation" } }),
    silent: () => withResource({ name: "earlier", path: "earlier.csv", alcedo: { series: "reference-set" } }),
  },
  "channel-duplicate": { fires: () => withChannels("blue", "Blue"), silent: () => withChannels("blue", "blue-2") },
  "channel-renamed": { fires: () => withChannels("Blue", "green"), silent: () => withChannels("blue", "green") },

  "table-absent": {
    fires: () => interpret({ descriptor: sampleDescriptor(), tables: {} }).findings,
    silent: sample,
  },
  "table-empty": {
    fires: () => interpret(sampleCampaign({ calibration: SAMPLE_TABLES.calibration.split("\n")[0]! })).findings,
    silent: () =>
      interpret(sampleCampaign({ calibration: SAMPLE_TABLES.calibration.split("\n", 2).join("\n") })).findings,
  },
  "table-too-long": { fires: () => long(100_001).findings, silent: () => long(1).findings },
  "column-missing": {
    fires: () => changed("separation", "dose_group", "my own group"),
    silent: () => changed("separation", "dose_group", " dose_group "),
  },
  "column-misspelt": {
    fires: () => changed("separation", "dose_group", "dosegroup"),
    silent: () => changed("separation", ",note", ",dosegroup"),
  },
  "column-doubtful": {
    fires: () => changed("calibration", "temperature_C", "temprature_C"),
    silent: () => changed("calibration", "temperature_C", "humidity_percent"),
  },
  "column-unknown": {
    fires: () => changed("separation", ",note", ",operator"),
    silent: sample,
  },
  "column-duplicate": { fires: () => changed("separation", ",note", ",mu"), silent: sample },
  "column-unnamed": { fires: () => changed("separation", ",note", ","), silent: sample },
  "channel-unknown": { fires: () => changed("separation", ",note", ",signal_infrared"), silent: sample },
  "column-partial": {
    fires: () => changed("separation", "s2,little,20,100", "s2,little,20,"),
    silent: () => changed("separation", "s4,much,20,100", "s4,much,20,"),
  },
  "row-blank": { fires: () => changed("background", "\nb2", "\n,,,,, \nb2"), silent: sample },
  "cell-missing": {
    fires: () => changed("calibration", "c1,ref,20", "c1,,20"),
    silent: () => changed("separation", "s4,much,20", "s4,,"),
  },
  "number-malformed": {
    fires: () => changed("calibration", "6.502", "6.5O2"),
    silent: () => changed("calibration", "6.502", " +6.502e0 "),
  },
  "number-not-finite": {
    fires: () => changed("calibration", "6.502", "-Infinity"),
    silent: () => changed("calibration", "6.502", "1e29"),
  },
  "number-range": {
    fires: () => changed("calibration", "21.8", "71.2"),
    silent: () => changed("calibration", "21.8", "60"),
  },
  "choice-unknown": { fires: () => changed("separation", "verify", "Verify"), silent: sample },
  "time-malformed": {
    fires: () => changed("background", "09:00:00+01:00", "09:00:00"),
    silent: () => changed("background", "09:00:00+01:00", "09:00Z"),
  },
  "reading-duplicate": { fires: () => changed("separation", "s5,", "s4,"), silent: sample },
  "reference-duplicate": {
    fires: () => reference("a,,0.6,1,plan\na,,0.7,1,plan"),
    silent: () => reference("a,,0.6,1,plan\na,,0.7,1,chamber"),
  },
  "correction-duplicate": {
    fires: () => corrections("10,1.01,0.4,book,\n5,1.02,0.4,book,\n10.0,1.02,0.4,paper,"),
    silent: () => corrections("10,1.01,0.4,book,\n5,1.02,0.4,book,\n100,1,0,paper,"),
  },
  "correction-disagrees": {
    fires: () => corrections("10,1.01,0.4,book,included\n5,1.02,0.4,book,apart"),
    silent: () => corrections("10,1.01,0.4,book,included\n5,1.02,0.4,book,included"),
  },
  "name-renamed": {
    fires: () => changed("calibration", "ref", "Reference field"),
    silent: () => changed("calibration", "ref", "reference-field"),
  },
  "name-unusable": {
    fires: () => changed("calibration", "ref", "--"),
    silent: () => changed("calibration", "ref", "0"),
  },
  "name-collision": {
    fires: () => changed("calibration", "c2,ref", "c2,REF"),
    silent: () => changed("calibration", "c2,ref", "c2, ref "),
  },
  "condition-disagrees": {
    fires: () => changed("separation", "3.50,a,fit", "3.50,a,verify"),
    silent: () => changed("separation", "100,,overflow,a,fit", "100,,overflow,a,verify"),
  },
  "dose-partial": {
    fires: () => changed("separation", "3.50,a,fit,1", "3.50,a,fit,"),
    silent: () => changed("separation", "3.50,a,fit,1", "3.50,a,fit,1.01"),
  },
  "group-disagrees": {
    fires: () => doseUncertainties("0.01", "0.02"),
    silent: () => doseUncertainties("0.01", "0.010"),
  },
  "shape-size": {
    fires: () => changed("output-factors", "rectangle,100,100,,", "rectangle,100,,100,"),
    silent: sample,
  },
  "pair-incomplete": {
    fires: () => changed("output-factors", "1.01,0.002", ",0.002"),
    silent: () => changed("output-factors", "1.01,0.002", "1.01,"),
  },
  "excluded-unreadable": { fires: sample, silent: () => changed("separation", "overflow", "") },
  "more-errors": { fires: () => many("x", 26).findings, silent: () => many("x", 25).findings },
  "more-notices": { fires: () => extraColumns(51), silent: () => extraColumns(50) },
};

function doseUncertainties(first: string, second: string): readonly Finding[] {
  const header = "reading,condition,duration_s,signal_blue,signal_green,dose_group,role,dose_Gy,dose_u_Gy";
  const text = `${header}\ns1,min,20,6.5,3.5,a,fit,1,${first}\ns2,max,20,17,17.5,a,fit,1,${second}`;
  return interpret(sampleCampaign({ separation: text })).findings;
}

const own = Object.entries(STRUCTURE_CODES).filter(
  ([, rule]) => rule.from !== "folder" && rule.from !== "zip" && rule.from !== "workbook",
);

describe.each(own)("%s", (code, rule) => {
  const fixture = FIXTURES[code as StructureCode];

  test(`fires: ${rule.sees}`, () => {
    const findings = fixture!.fires().filter((finding) => finding.code === code);
    expect(findings.length).toBeGreaterThan(0);
    for (const finding of findings) {
      expect(finding.level).toBe(rule.level);
      expect(finding.remedy).toBeTruthy();
      expect(finding.where?.file).toBeTruthy();
      expect(finding.message.startsWith(finding.where!.file!)).toBe(true);
      expect(finding.message).toMatch(/\.$/);
    }
    const { message, remedy } = findings[0]!;
    expect(`${message} ${remedy}`).toMatchSnapshot();
  });

  test("is silent where all is well", () => {
    expect(fixture!.silent().map((finding) => finding.code)).not.toContain(code);
  });
});

test("every finding of every fixture has a registered code", () => {
  const raised = Object.values(FIXTURES).flatMap(({ fires, silent }) => [...fires(), ...silent()]);
  for (const finding of raised) expect(STRUCTURE_CODES).toHaveProperty(finding.code);
});
