import { simulate, standardLaboratory, withRepeats } from "@alcedo-dosimetry/simulator";
import { describe, expect, test } from "vitest";
import { measurableSeries, nameFault, setUpColumns } from "./set-up-fields.ts";

const { campaign } = simulate(withRepeats(standardLaboratory(), 2), 1);

describe("what is set up", () => {
  test("for a field are its role, shape and sizes, and what the table states of the moment", () => {
    const names = setUpColumns(campaign, "output-factors").map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(["role", "shape", "x_mm", "diameter_mm", "mu", "temperature_C"]));
    for (const own of ["reading", "time", "signal_blue", "monitor", "exclude"]) expect(names).not.toContain(own);
    // no such column in this table, and nobody needs it
    expect(names).not.toContain("k_volume");
  });

  test("with the beam off is next to nothing", () => {
    expect(setUpColumns(campaign, "background").map(({ name }) => name)).toEqual(["duration_s", "temperature_C"]);
  });

  test("is nothing for a series that the campaign has no table of", () => {
    const without = { ...campaign, tables: { separation: campaign.tables["separation"]! } };
    expect(setUpColumns(without, "calibration")).toEqual([]);
    expect(measurableSeries(without)).toEqual(["separation"]);
    expect(measurableSeries(campaign)).toHaveLength(4);
  });
});

test.each([
  ["10x10", undefined],
  ["cone-7.5", undefined],
  ["", "A condition needs a name, such as 10x10 or cone-5."],
  ["Cone 5", "Small letters, digits, point and hyphen alone: cone-5."],
])("the name %j: %s", (name, fault) => expect(nameFault(name)).toBe(fault));
