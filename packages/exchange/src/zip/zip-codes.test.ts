import { type Finding, STRUCTURE_CODES } from "@alcedo-dosimetry/campaign";
import { strToU8, type Zippable, zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { patchedEntry } from "../testing/patched-entry.ts";
import { SAMPLE_FILES } from "../testing/sample-folder.ts";
import { readZippedFolder } from "./read-zipped-folder.ts";

const SOUND: Zippable = Object.fromEntries(Object.entries(SAMPLE_FILES).map(([path, text]) => [path, strToU8(text)]));
const CSV = SOUND["separation.csv"] as Uint8Array;
const read = (bytes: Uint8Array) => readZippedFolder(bytes, "invented.zip").findings;
const zip = (more: Zippable = {}) => read(zipSync({ ...SOUND, ...more }));
const link = (mode: number): Zippable => ({ "link.csv": [strToU8("/etc/passwd"), { os: 3, attrs: mode << 16 }] });
const flagged = () => patchedEntry(zipSync(SOUND), 8, (view, at) => view.setUint16(at, 1, true));

const FIXTURES: Readonly<Record<string, { fires: () => readonly Finding[]; silent: () => readonly Finding[] }>> = {
  "zip-unreadable": { fires: () => read(zipSync(SOUND).subarray(0, -1)), silent: () => zip() },
  "zip-encrypted": { fires: () => read(flagged()), silent: () => zip() },
  "zip-too-large": {
    fires: () => read(patchedEntry(zipSync(SOUND), 24, (view, at) => view.setUint32(at, 257 * 1024 * 1024, true))),
    silent: () => zip({ "large.txt": new Uint8Array(1024 * 1024) }),
  },
  "zip-path": { fires: () => zip({ "../up.csv": CSV }), silent: () => zip({ "notes/up..csv": CSV }) },
  "zip-link": { fires: () => zip(link(0o120777)), silent: () => zip(link(0o100644)) },
  "zip-twice": { fires: () => zip({ "Separation.csv": CSV }), silent: () => zip({ "separation2.csv": CSV }) },
};

describe.each(Object.entries(STRUCTURE_CODES).filter(([, rule]) => rule.from === "zip"))("%s", (code, rule) => {
  test(`fires: ${rule.sees}`, () => {
    const findings = FIXTURES[code]!.fires();
    expect(findings.map((finding) => finding.code)).toEqual([code]);
    const { message, remedy, level } = findings[0]!;
    expect([level, message]).toEqual([rule.level, expect.stringMatching(/^invented\.zip: .*\.$/)]);
    expect(`${message} ${remedy}`).toMatchSnapshot();
  });

  test("is silent where all is well", () => {
    expect(FIXTURES[code]!.silent().map((finding) => finding.code)).not.toContain(code);
    expect(FIXTURES[code]!.silent().filter(({ level }) => level === "error")).toEqual([]);
  });
});
