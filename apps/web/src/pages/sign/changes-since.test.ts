import { applyEdits } from "@alcedo-dosimetry/campaign";
import { simulate, standardLaboratory, withRepeats } from "@alcedo-dosimetry/simulator";
import { describe, expect, test } from "vitest";
import { cellEdits } from "../console/next-reading.ts";
import { changesSince } from "./changes-since.ts";

const { campaign } = simulate(withRepeats(standardLaboratory(), 3), 1);

describe("what changed since a campaign was signed", () => {
  test("is nothing where nothing did", () => {
    const same = changesSince(campaign, campaign);
    expect(same.figures).toEqual([]);
    expect(same.unchanged).toBeGreaterThan(20);
  });

  test("names the figures and the reading through which they moved", () => {
    const row = campaign.tables["output-factors"]!.rows.find(([, condition]) => condition === "10x10")!;
    const edits = cellEdits(campaign, "output-factors", row[0]!, { signal_blue: "9.9" });
    const changed = changesSince(campaign, applyEdits(campaign, edits));
    const factor = changed.figures.find(({ id }) => id === "output-factor.10x10")!;
    expect(factor.before).not.toBe(factor.after);
    expect(factor.change).toMatch(/^\+\d/);
    expect(factor.through.map(({ input }) => input).join()).toContain(row[0]);
    // another field's figure has its scatter changed at most, never its value by as much
    expect(changed.figures.map(({ id }) => id)).not.toContain("background.blue");
  });

  test("names what is gone", () => {
    const { calibration: _, ...tables } = campaign.tables;
    const resources = campaign.descriptor.resources.filter(({ name }) => name !== "calibration");
    const without = { descriptor: { ...campaign.descriptor, resources }, tables };
    expect(changesSince(campaign, without).gone).toContain("calibration.coefficient");
    expect(changesSince(without, campaign).come).toContain("calibration.coefficient");
  });
});
