import { type Finding, STRUCTURE_CODES, type StructureCode } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { memoryFolder } from "./folder-source.ts";
import { readFolder } from "./read-folder.ts";
import { changedDescriptor, SAMPLE_FILES, sampleFolder } from "./testing/sample-folder.ts";

/** Two inputs that differ in little: one has the fault, one has not. */
interface Fixture {
  readonly fires: () => readonly Finding[];
  readonly silent: () => readonly Finding[];
}

type Changes = Parameters<typeof sampleFolder>[0];

const read = (changes: Changes = {}) => readFolder(sampleFolder(changes)).findings;
const calibration = (content: string | Uint8Array) => read({ "data/calibration.csv": content });
const CALIBRATION = SAMPLE_FILES["data/calibration.csv"]!;
const bytes = (...list: number[]) => Uint8Array.from(list);
const descriptor = (from: string, to: string) => {
  const text = SAMPLE_FILES["datapackage.json"]!;
  if (!text.includes(from)) throw new Error(`the sample lacks ${from}`);
  return read({ "datapackage.json": text.replace(from, to) });
};
const withResource = (properties: object, table = CALIBRATION) =>
  read({
    "datapackage.json": changedDescriptor((json) => void Object.assign(json.resources[1]!, properties)),
    "data/calibration.csv": table,
  });
const sized = (size: number) => {
  const folder = sampleFolder();
  return readFolder({ ...folder, size: (path) => (path === "separation.csv" ? size : folder.size(path)) }).findings;
};
const semicolons = (...signals: string[]) =>
  `reading;condition;signal_blue;signal_green;dose_Gy;dose_u_percent\n${signals
    .map((signal, i) => `c${i};ref;${signal};${signal};1;1\n`)
    .join("")}`;
const declared = (...signs: string[]) => ({
  schema: { fields: signs.map((decimalChar, i) => ({ name: ["signal_blue", "signal_green"][i], decimalChar })) },
});

const FIXTURES: Partial<Record<StructureCode, Fixture>> = {
  "folder-empty": { fires: () => readFolder(memoryFolder("empty", new Map())).findings, silent: () => read() },
  "descriptor-absent": { fires: () => read({ "datapackage.json": undefined }), silent: () => read() },
  "file-absent": { fires: () => read({ "separation.csv": undefined, "Separation.csv": "x" }), silent: () => read() },
  "file-too-large": { fires: () => sized(64 * 1024 * 1024 + 1), silent: () => sized(64 * 1024 * 1024) },
  "file-unreadable": {
    fires: () => {
      const folder = sampleFolder();
      const refuse = (path: string) => {
        if (path === "separation.csv") throw new Error("it is a link that leads out of the folder");
        return folder.read(path);
      };
      return readFolder({ ...folder, read: refuse }).findings;
    },
    silent: () => read(),
  },
  "file-unlisted": {
    fires: () => read({ "old/separation.csv": "reading" }),
    silent: () => read({ "old/notes.txt": "x", ".~lock.separation.csv": "x", "photo.jpg": "x" }),
  },
  "text-binary": {
    fires: () => calibration(bytes(0x50, 0x4b, 3, 4, 0, 0)),
    silent: () => calibration(`PK,${CALIBRATION}`),
  },
  "text-utf16": {
    fires: () => calibration(new Uint8Array(Buffer.from(`\ufeff${CALIBRATION}`, "utf16le"))),
    silent: () => calibration(`\ufeff${CALIBRATION}`),
  },
  "text-not-utf8": {
    fires: () => calibration(new Uint8Array(Buffer.from(CALIBRATION.replace("ref", "gr\u00fcn"), "latin1"))),
    silent: () => calibration(CALIBRATION.replace("ref", "gr\u00fcn")),
  },
  "json-syntax": { fires: () => descriptor('"version": 1,', '"version": 1'), silent: () => read() },
  "json-duplicate-key": {
    fires: () => descriptor('"version": 1,', '"version": 1, "version": 1,'),
    silent: () => read(),
  },
  "json-too-deep": {
    fires: () => descriptor('"version": 1,', `"version": ${"[".repeat(100_000)}`),
    silent: () => descriptor('"version": 1,', `"version": ${"[".repeat(20)}${"]".repeat(20)},`),
  },
  "json-value": {
    fires: () => descriptor('"energy_MV": 6', '"energy_MV": 6e999'),
    silent: () => descriptor('"energy_MV": 6', '"energy_MV": 6e0'),
  },
  "csv-quotes": {
    fires: () => calibration(CALIBRATION.replace("ref", '"ref')),
    silent: () => calibration(CALIBRATION.replace("ref", '"re""f"')),
  },
  "csv-too-wide": {
    fires: () => calibration(CALIBRATION.replace("dose_Gy", `dose_Gy${",".repeat(1000)}`)),
    silent: () => calibration(CALIBRATION),
  },
  "delimiter-unclear": {
    fires: () => calibration(CALIBRATION.replaceAll(",", "|")),
    silent: () => calibration(CALIBRATION.replaceAll(",", "\t").replace("1.00", "1.0")),
  },
  "row-ragged": {
    fires: () => calibration(CALIBRATION.replace("6.500,", "6,500,")),
    silent: () => calibration(CALIBRATION.replace("6.500,", '"6.500",')),
  },
  "column-empty": {
    fires: () => calibration(CALIBRATION.replaceAll("\n", ",\n")),
    silent: () => calibration(CALIBRATION.replace("\n", ",\n").replace("0.7\n", "0.7,x\n")),
  },
  "decimal-mixed": {
    fires: () => calibration(semicolons("6.5", "3,5")),
    silent: () => calibration(semicolons("6,5", "3,5")),
  },
  "decimal-ambiguous": {
    fires: () => calibration(semicolons("6,500", "3,500")),
    silent: () => withResource(declared(","), semicolons("6,500", "3,500")),
  },
  "decimal-declared": {
    fires: () => withResource(declared(".", ",")),
    silent: () => withResource(declared(".", ".")),
  },
};

const own = Object.entries(STRUCTURE_CODES).filter(([, rule]) => rule.from === "folder");

describe.each(own)("%s", (code, rule) => {
  const fixture = FIXTURES[code as StructureCode];

  test(`fires: ${rule.sees}`, () => {
    const findings = fixture!.fires().filter((finding) => finding.code === code);
    expect(findings.length).toBeGreaterThan(0);
    for (const finding of findings) {
      expect(finding.level).toBe(rule.level);
      expect(finding.remedy).toBeTruthy();
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
