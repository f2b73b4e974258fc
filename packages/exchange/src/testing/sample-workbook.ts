import { type WrittenCell, type WrittenSheet, writeWorkbook } from "@alcedo-dosimetry/tabular/workbook";
import { readCampaignWorkbook } from "../workbook/read-campaign-workbook.ts";

/** Rows of one sheet. */
type Rows = readonly (readonly WrittenCell[])[];

/** Invented data for this package's tests: the sheets of a small sound workbook, headers and keys as people write them. */
export const SAMPLE_SHEETS: Readonly<Record<string, Rows>> = {
  campaign: [
    ["key", "value", "unit"],
    ["name", "invented-cones"],
    ["alcedo.version", 1],
    ["detector.id", "F-1"],
    ["detector.channels", "blue, green"],
    ["detector.signalUnit", "nC"],
    ["beam.id", "B-1"],
    ["beam.modality", "photon"],
    ["beam.energy_MV", 6, "MV"],
    ["beam.depth_mm", 100, "mm"],
  ],
  separation: [
    ["reading", "condition", "signal_blue", "signal_green", "dose_group", "role", "note"],
    ["s1", "min", 6.5, 3.5, "a", "fit", null],
    ["s2", "max", 17.25, 17.5, "a", "fit", "second loop"],
    ["s3", "mid", 11.125, 9.5, "a", "verify", null],
  ],
  calibration: [
    ["reading", "condition", "signal_blue", "signal_green", "dose_Gy", "dose_u_percent"],
    ["c1", "ref", 6.5, 3.5, 1, 0.7],
  ],
};

/** The bytes of the sample workbook with some sheets changed, added, or taken out (`undefined`). */
export function sampleWorkbook(changes: Readonly<Record<string, Rows | undefined>> = {}): Uint8Array {
  const sheets = Object.entries({ ...SAMPLE_SHEETS, ...changes }).flatMap(([name, rows]): WrittenSheet[] =>
    rows === undefined ? [] : [{ name, rows }],
  );
  return writeWorkbook(sheets);
}

/** Reads the sample workbook after a change. */
export function readSample(changes: Readonly<Record<string, Rows | undefined>> = {}) {
  return readCampaignWorkbook(sampleWorkbook(changes), "invented.xlsx");
}

/** The calibration's sheet with another header and another row. */
export function calibration(header: readonly WrittenCell[], ...rows: Rows): Readonly<Record<string, Rows>> {
  return { calibration: [header, ...rows] };
}

/** The sheet campaign with rows put at its end, or one key's row in place of its own. */
export function keys(...rows: Rows): Readonly<Record<string, Rows>> {
  const named = rows.map(([key]) => key);
  return { campaign: [...SAMPLE_SHEETS["campaign"]!.filter(([key]) => !named.includes(key)), ...rows] };
}
