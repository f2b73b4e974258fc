import { applyEdits, type Campaign, evaluate, type Table } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { asFarAsComplete } from "./as-far-as-complete.ts";

const table = (path: string, columns: readonly string[], rows: readonly (readonly string[])[]): Table => ({
  ...{ path, decimal: ".", columns, rows },
  lines: rows.map((_, k) => k + 2),
});
const separation = table(
  "separation.csv",
  ["reading", "condition", "dose_group", "role", "signal_blue", "signal_green"],
  [
    ["s1", "little", "a", "fit", "6.501", "3.500"],
    ["s2", "little", "a", "fit", "6.499", "3.502"],
    ["s3", "much", "a", "fit", "16.999", "17.500"],
    ["s4", "much", "a", "fit", "17.002", "17.498"],
  ],
);
const calibration = table(
  "calibration.csv",
  ["reading", "condition", "signal_blue", "signal_green", "dose_Gy", "dose_u_percent"],
  [],
);
/** Invented; the calibration has not been measured yet. */
const campaign: Campaign = {
  descriptor: {
    name: "invented",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon", energy_MV: 6 },
    },
    resources: [
      { name: "separation", path: "separation.csv", alcedo: { series: "separation" } },
      { name: "calibration", path: "calibration.csv", alcedo: { series: "calibration" } },
    ],
  },
  tables: { separation, calibration },
};
const alone: Campaign = {
  descriptor: { ...campaign.descriptor, resources: campaign.descriptor.resources.slice(0, 1) },
  tables: { separation },
};
const ratio = (own: Campaign) =>
  asFarAsComplete(own).evaluation.result.quantities.find(({ id }) => id === "separation.stem-ratio")?.value;

describe("a campaign in the middle of being typed", () => {
  test("gives the results of what is measured while a table is empty, and does not complain about it", () => {
    expect(evaluate(campaign).model).toBeUndefined();
    const { complete, findings } = asFarAsComplete(campaign);
    expect(complete).toBe(false);
    expect(ratio(campaign)).toBe(ratio(alone));
    expect(findings.map(({ code }) => code)).not.toContain("table-empty");
  });

  test("sets a reading with a cell still empty aside, says so, and leaves the others where they are", () => {
    const typing = applyEdits(alone, [
      { insert: { table: "separation", at: 2, rows: [["s9", "little", "a", "fit", "7.777", ""]] } },
    ]);
    const { complete, findings, campaign: shown } = asFarAsComplete(typing);
    expect(complete).toBe(false);
    expect(ratio(typing)).toBe(ratio(alone));
    expect(findings.find(({ code }) => code === "cell-missing")).toMatchObject({
      ...{ level: "warning", effect: expect.stringContaining("set aside until it is complete") as string },
      where: { row: 3, column: "signal_green" },
    });
    expect(shown.tables["separation"]!.rows.map(([reading]) => reading)).toEqual(["s1", "s2", "s9", "s3", "s4"]);
  });

  test("whose only reading is not complete waits for it", () => {
    const typing = applyEdits(campaign, [
      { insert: { table: "calibration", at: 0, rows: [["c1", "reference", "6.2", "", "1", "0.7"]] } },
    ]);
    expect(ratio(typing)).toBe(ratio(alone));
    expect(asFarAsComplete(typing).evaluation.result.stages.map(({ id }) => id)).not.toContain("calibration");
  });

  test("that holds nothing yet is told nothing", () => {
    const { findings, evaluation } = asFarAsComplete({
      descriptor: { ...campaign.descriptor, resources: campaign.descriptor.resources.slice(1) },
      tables: { calibration },
    });
    expect(findings).toEqual([]);
    expect(evaluation.model).toBeUndefined();
  });

  test("with a number that is none gives no result, and says why", () => {
    const wrong = applyEdits(alone, [{ cell: { table: "separation", row: 0, column: "signal_blue", text: "6.5x" } }]);
    const { evaluation, findings } = asFarAsComplete(wrong);
    expect(evaluation.model).toBeUndefined();
    expect(findings.map(({ code, level }) => [code, level])).toContainEqual(["number-malformed", "error"]);
  });

  test("that is complete is evaluated as it is, to the last bit", () => {
    expect(asFarAsComplete(alone)).toMatchObject({ complete: true, campaign: alone });
    expect(asFarAsComplete(alone).evaluation.result).toEqual(evaluate(alone).result);
  });
});
