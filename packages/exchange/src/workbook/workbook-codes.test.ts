import { type Finding, STRUCTURE_CODES, type StructureCode } from "@alcedo-dosimetry/campaign";
import type { WrittenCell } from "@alcedo-dosimetry/tabular/workbook";
import { strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { calibration, keys, readSample, SAMPLE_SHEETS, sampleWorkbook } from "../testing/sample-workbook.ts";
import { readCampaignWorkbook } from "./read-campaign-workbook.ts";

/** Two inputs that differ in little: one has the fault, one has not. */
interface Fixture {
  readonly fires: () => readonly Finding[];
  readonly silent: () => readonly Finding[];
}

const read = (...change: Parameters<typeof readSample>) => readSample(...change).findings;
const bytes = (content: Uint8Array) => readCampaignWorkbook(content, "invented.xlsx").findings;
const HEADER = SAMPLE_SHEETS["calibration"]![0]!;
const ROW = SAMPLE_SHEETS["calibration"]![1]!;
/** The header, or a row, with some of its cells changed. */
const but = (cells: readonly WrittenCell[], changes: Readonly<Record<number, WrittenCell>>) =>
  cells.map((cell, i) => (Object.hasOwn(changes, i) ? changes[i]! : cell));
const header = (changes: Readonly<Record<number, WrittenCell>>) => read(calibration(but(HEADER, changes), ROW));
const row = (changes: Readonly<Record<number, WrittenCell>>) => read(calibration(HEADER, but(ROW, changes)));
const formatted = (value: number, format: string) => ({ value, style: { format } });
/** The sample workbook with one part's text changed. */
const patched = (part: RegExp, from: string | RegExp, to: string) => {
  const parts = unzipSync(sampleWorkbook());
  const name = Object.keys(parts).find((own) => part.test(own))!;
  const text = new TextDecoder().decode(parts[name]);
  const changed = text.replace(from, to);
  if (changed === text) throw new Error(`${name} has no ${String(from)}`);
  return zipSync({ ...parts, [name]: strToU8(changed) });
};
const CALIBRATION = /sheet3\.xml$/;
const timed = (head: string, value: WrittenCell) => read(calibration([...HEADER, head], [...ROW, value]));

const FIXTURES: Partial<Record<StructureCode, Fixture>> = {
  "workbook-unreadable": { fires: () => bytes(strToU8("reading,condition")), silent: () => read() },
  "workbook-encrypted": {
    fires: () =>
      bytes(Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, ...[..."EncryptedPackage"].flatMap((c) => [c.charCodeAt(0), 0]))),
    silent: () => read(),
  },
  "workbook-macros": {
    fires: () => bytes(zipSync({ ...unzipSync(sampleWorkbook()), "xl/vbaProject.bin": strToU8("x") })),
    silent: () => bytes(zipSync({ ...unzipSync(sampleWorkbook()), "xl/media/image1.png": strToU8("x") })),
  },
  "workbook-too-large": { fires: () => bytes(new Uint8Array(64 * 1024 * 1024 + 1)), silent: () => read() },
  "campaign-sheet-absent": {
    fires: () => read({ campaign: undefined, setup: SAMPLE_SHEETS["campaign"] }),
    silent: () => read({ campaign: undefined, " Campaign": SAMPLE_SHEETS["campaign"] }),
  },
  "sheet-unknown": {
    fires: () => read({ "my plots": [["x"]] }),
    silent: () => read({ "my plots": [], "Read Me": [["x"]] }),
  },
  "sheet-misspelt": {
    fires: () => read({ calibration: undefined, calibraton: SAMPLE_SHEETS["calibration"] }),
    silent: () => read({ calibration: undefined, Calibration: SAMPLE_SHEETS["calibration"] }),
  },
  "sheet-hidden": {
    fires: () => bytes(patched(/workbook\.xml$/, 'name="calibration"', 'name="calibration" state="hidden"')),
    silent: () => bytes(patched(/workbook\.xml$/, 'name="campaign"', 'name="campaign" state="hidden"')),
  },
  "sheet-too-wide": {
    fires: () => read(calibration([...HEADER, ...Array.from({ length: 1000 }, () => "x")], ROW)),
    silent: () => read(),
  },
  "key-unnamed": { fires: () => read(keys([null, 5])), silent: () => read(keys([null, null, "cm"])) },
  "key-duplicate": {
    fires: () => read({ campaign: [...SAMPLE_SHEETS["campaign"]!, ["beam.id", "B-2"]] }),
    silent: () => read({ campaign: [...SAMPLE_SHEETS["campaign"]!, ["beam.id", null]] }),
  },
  "value-converted": {
    fires: () => read(keys(["detector.id", 317])),
    silent: () => read(keys(["detector.id", "317"])),
  },
  "header-understood": { fires: () => header({ 2: "Signal Blue" }), silent: () => header({ 2: " signal_blue " }) },
  "unit-converted": { fires: () => header({ 4: "dose (cGy)" }), silent: () => header({ 4: "dose (Gy)" }) },
  "unit-missing": { fires: () => header({ 4: "Dose" }), silent: () => header({ 4: "Dose / Gy" }) },
  "unit-unsupported": {
    fires: () => timed("temperature (°F)", 72),
    silent: () => timed("temperature (°C)", 22),
  },
  "rows-above-header": {
    fires: () => read(calibration(["Calibration of the fibre"], HEADER, ROW)),
    silent: () => read(calibration([], HEADER, ROW)),
  },
  "cells-merged": {
    fires: () =>
      bytes(
        patched(CALIBRATION, "</sheetData>", '</sheetData><mergeCells count="1"><mergeCell ref="B2:B3"/></mergeCells>'),
      ),
    silent: () => read(),
  },
  "row-hidden": {
    fires: () => bytes(patched(CALIBRATION, '<row r="2"', '<row r="2" hidden="1"')),
    silent: () =>
      bytes(patched(CALIBRATION, "<sheetData>", '<cols><col min="9" max="9" hidden="1"/></cols><sheetData>')),
  },
  "formula-value": { fires: () => row({ 4: { value: 1, formula: "0.5*2" } }), silent: () => row({ 1: "=ref" }) },
  "formula-uncomputed": {
    fires: () => bytes(patched(CALIBRATION, /<v>0\.7<\/v>/, "<f>7/10</f>")),
    silent: () => bytes(patched(CALIBRATION, /<v>0\.7<\/v>/, "<f>7/10</f><v>0.7</v>")),
  },
  "cell-error": {
    fires: () => bytes(patched(CALIBRATION, /><v>0\.7<\/v>/, ' t="e"><f>7/0</f><v>#DIV/0!</v>')),
    silent: () => row({ 1: "#DIV/0!" }),
  },
  "cell-date": { fires: () => row({ 1: formatted(45000, "d.m") }), silent: () => row({ 1: "10.3" }) },
  "time-converted": {
    fires: () => timed("time (UTC+1)", formatted(45000.5, "yyyy-mm-dd hh:mm")),
    silent: () => timed("time", "2023-03-15T12:00:00+01:00"),
  },
  "time-without-offset": {
    fires: () => timed("time", formatted(45000.5, "yyyy-mm-dd hh:mm")),
    silent: () => timed("time (Z)", formatted(45000.5, "yyyy-mm-dd hh:mm")),
  },
  "percent-converted": {
    fires: () => row({ 5: formatted(0.007, "0.0%") }),
    silent: () => row({ 5: formatted(0.7, "0.0") }),
  },
};

const own = Object.entries(STRUCTURE_CODES).filter(([, rule]) => rule.from === "workbook");

describe.each(own)("%s", (code, rule) => {
  const fixture = FIXTURES[code as StructureCode];

  test(`fires: ${rule.sees}`, () => {
    const findings = fixture!.fires().filter((finding) => finding.code === code);
    expect(findings.length).toBeGreaterThan(0);
    for (const finding of findings) {
      expect(finding.level).toBe(rule.level);
      expect(finding.remedy).toBeTruthy();
      expect(finding.message).toMatch(/^(sheet |invented\.xlsx).*\.$/);
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
