import { describe, expect, it } from "vitest";
import { chainSeries } from "./chain-series.ts";
import { interpret } from "./readings.ts";
import { type MadeUpTables, madeUpCampaign } from "./testing/made-up-campaign.ts";

const seriesOf = (change: (tables: Required<MadeUpTables>) => void = () => undefined) =>
  chainSeries(interpret(madeUpCampaign(change)).series);

describe("the series as the physics takes them", () => {
  it("hold every row in the table's order, those that are left out in their places with their reason", () => {
    const { separation } = seriesOf((tables) => {
      tables.separation[1]!["exclude"] = "door open";
      tables.separation[11]!["exclude"] = "last one";
    });
    expect(separation!.name).toBe("separation");
    expect(separation!.readings.map(({ id }) => id).slice(0, 4)).toEqual(["short-1", "short-2", "short-3", "long-1"]);
    expect(separation!.readings.map(({ exclude }) => exclude)).toEqual([
      ...[undefined, "door open"],
      ...Array.from({ length: 9 }, () => undefined),
      "last one",
    ]);
  });

  it("keep of a reading that is left out whatever can be read of it", () => {
    const { separation } = seriesOf(({ separation: rows }) => {
      Object.assign(rows[1]!, { exclude: "odd", dose_Gy: 1.1, dose_u_Gy: 0.01 });
      for (const row of rows) row["dose_Gy"] ??= 1;
    });
    const [counts, left] = separation!.readings as unknown as Record<string, unknown>[];
    for (const key of ["condition", "time", "duration_s", "mu", "monitor", "temperature_C", "doseGroup"])
      expect(typeof left![key]).toBe(typeof counts![key]);
    expect(left).toMatchObject({ condition: "short", dose_Gy: 1.1, dose_u_Gy: 0.01, mu: 100 });
    expect(left!["signals"]).toHaveLength(2);
  });

  it("give it the name of its condition as results have it", () => {
    const { "output-factors": outputs } = seriesOf(({ "output-factors": rows }) => {
      for (const row of rows) if (row["condition"] === "5x5") row["condition"] = "5 × 5";
      rows.find((row) => row["condition"] === "5 × 5")!["exclude"] = "odd";
    });
    expect(outputs!.readings.filter(({ condition }) => condition === "5x5")).toHaveLength(3);
  });

  it("call it by its row where it has no id, and take any condition or none", () => {
    const { calibration } = seriesOf(({ calibration: rows }) => {
      Object.assign(rows[2]!, { exclude: "empty", reading: "", condition: "", signal_blue: "", dose_Gy: "?" });
    });
    expect(calibration!.readings[2]).toMatchObject({ id: "row 3", condition: "", exclude: "empty", digits: [] });
    expect(calibration!.readings[2]!.signals[0]).toBeUndefined();
  });

  it("are absent where the campaign has none", () => {
    expect(Object.keys(seriesOf())).toEqual(["background", "separation", "calibration", "output-factors"]);
    const few = seriesOf((tables) => {
      delete (tables as MadeUpTables).background;
      delete (tables as MadeUpTables).calibration;
    });
    expect(Object.keys(few)).toEqual(["separation", "output-factors"]);
  });
});
