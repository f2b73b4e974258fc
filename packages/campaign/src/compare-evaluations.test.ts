import { describe, expect, it } from "vitest";
import type { Campaign } from "./campaign.ts";
import { compareEvaluations, type QuantityComparison } from "./compare-evaluations.ts";
import { type Evaluation, evaluate } from "./evaluate.ts";
import { demonstration, type MadeUpRow, type MadeUpTables, madeUpCampaign } from "./testing/made-up-campaign.ts";

type SeriesName = "background" | "separation" | "calibration" | "output-factors";
type Change = (row: MadeUpRow) => void;

/** What is compared: with as many conditions as unknowns in the fit, or with one more, so that its weights matter. */
type Fit = "exact fit" | "fit with weights";

/**
 * Largest remainder over change. Weights follow the scatter: what alters or takes away one of three repeats moves them by a
 * good part of themselves, and the third order shows, to a hundred-millionth of the output factor.
 */
const REMAINDER: Record<Fit, { ofChange: number; ofValue: number }> = {
  "exact fit": { ofChange: 1e-4, ofValue: 0 },
  "fit with weights": { ofChange: 1e-3, ofValue: 1e-8 },
};

/** A campaign whose reference and background drift, so that times count. */
function drifting(fit: Fit, change: (tables: Required<MadeUpTables>) => void = () => undefined): Campaign {
  return madeUpCampaign((tables) => {
    for (const row of tables.separation)
      if (row["condition"] === "half" && fit === "fit with weights") row["role"] = "fit";
    for (const row of tables["output-factors"].slice(-3)) row["signal_blue"] = Number(row["signal_blue"]) * 1.004;
    for (const row of tables.background.slice(-3)) row["signal_blue"] = Number(row["signal_blue"]) * 1.3;
    change(tables);
  });
}

const BEFORE: Record<Fit, Evaluation> = {
  "exact fit": evaluate(drifting("exact fit")),
  "fit with weights": evaluate(drifting("fit with weights")),
};

/** The comparison after one row of a series was changed. */
function afterChange(fit: Fit, series: SeriesName, reading: string, change: Change) {
  const after = drifting(fit, (tables) => change(tables[series].find((row) => row["reading"] === reading)!));
  return compareEvaluations(BEFORE[fit], evaluate(after)).quantities;
}

const multiply =
  (column: string, factor: number): Change =>
  (row) => {
    row[column] = Number(row[column]) * factor;
  };
const exclude: Change = (row) => {
  row["exclude"] = "beam stopped";
};
const later: Change = (row) => {
  row["time"] = `${row["time"]}`.replace(
    /:(\d\d)\+/,
    (_, s: string) => `:${`${(Number(s) + 17) % 60}`.padStart(2, "0")}+`,
  );
};

const changed = ({ change, before }: QuantityComparison) => Math.abs(change) > 1e-12 * Math.abs(before);

/** That the whole change of every output factor is laid at that reading's door. */
function expectAllFrom(input: string, quantities: readonly QuantityComparison[], fit: Fit): void {
  const { ofChange, ofValue } = REMAINDER[fit];
  const factors = quantities.filter(({ id }) => id.startsWith("output-factor."));
  expect(factors.length).toBe(3);
  for (const one of factors) {
    expect(one.attributions.filter((own) => own.input !== input)).toEqual([]);
    if (!changed(one)) continue;
    expect(one.attributions.map((own) => own.input)).toEqual([input]);
    expect(Math.abs(one.remainder)).toBeLessThan(ofChange * Math.abs(one.change) + ofValue * one.before);
  }
}

/** A reading of each series, with what it does to the output factors. */
const READINGS: readonly (readonly [SeriesName, string])[] = [
  ["background", "before-2"],
  ["background", "after-1"],
  ["separation", "short-1"],
  ["separation", "long-3"],
  ["separation", "half-2"],
  ["output-factors", "first-100x100-2"],
  ["output-factors", "last-100x100-1"],
  ["output-factors", "10x10-2"],
];

describe("the comparison of two evaluations", () => {
  it("of one campaign finds no change", () => {
    const after = evaluate(drifting("fit with weights"));
    const { quantities, onlyAfter, onlyBefore } = compareEvaluations(BEFORE["fit with weights"], after);
    expect({ onlyAfter, onlyBefore }).toEqual({ onlyAfter: [], onlyBefore: [] });
    expect(quantities.length).toBeGreaterThan(40);
    for (const { change, attributions, remainder } of quantities)
      expect({ change, attributions, remainder }).toEqual({ change: 0, attributions: [], remainder: 0 });
  });

  const cases = (["exact fit", "fit with weights"] as const).flatMap((fit) =>
    READINGS.map(([series, reading]) => [fit, series, reading] as const),
  );

  describe.each(cases)("(%s) after a change in %s of reading %s", (fit, series, reading) => {
    const input = `${series}/${reading}`;
    const fitted = fit === "fit with weights" || reading !== "half-2"; // kept aside it moves no output factor
    const moved = (quantities: readonly QuantityComparison[]) =>
      quantities.some((one) => changed(one) && one.id.startsWith("output-factor."));

    it.each(["signal_blue", "signal_green"])("lays the whole change of every output factor at its %s", (column) => {
      const by = series === "background" ? 1.02 : fit === "exact fit" ? 1.0005 : 1.0001;
      const quantities = afterChange(fit, series, reading, multiply(column, by));
      expect(moved(quantities)).toBe(fitted);
      expectAllFrom(input, quantities, fit);
    });

    it("does so where it was left out", () => {
      const quantities = afterChange(fit, series, reading, exclude);
      expect(moved(quantities)).toBe(fitted);
      expectAllFrom(input, quantities, fit);
    });

    it("and where its time or its monitor was corrected", () => {
      expectAllFrom(input, afterChange(fit, series, reading, later), fit);
      if (series !== "background")
        expectAllFrom(input, afterChange(fit, series, reading, multiply("monitor", 1.0005)), fit);
    });
  });

  it("of a calibration reading changes the coefficient and no output factor", () => {
    for (const change of [multiply("signal_blue", 1.002), multiply("dose_Gy", 1.01), exclude, later]) {
      const quantities = afterChange("exact fit", "calibration", "reference-2", change);
      expectAllFrom("calibration/reference-2", quantities, "exact fit");
      expect(quantities.filter(({ id }) => id.startsWith("output-factor.")).some(changed)).toBe(false);
      const coefficient = quantities.find(({ id }) => id === "calibration.coefficient")!;
      if (change === later) continue;
      expect(changed(coefficient)).toBe(true);
      expect(coefficient.attributions.map((one) => one.input)).toEqual(["calibration/reference-2"]);
      expect(Math.abs(coefficient.remainder / coefficient.change)).toBeLessThan(1e-4);
    }
  });

  it("of the demonstration campaign lays an altered and an excluded reading bare", () => {
    const demonstrated = (change: (row: string[], column: (name: string) => number) => void): Campaign => {
      const campaign = demonstration();
      const table = campaign.tables["output-factors"]!;
      const column = (name: string) => table.columns.indexOf(name);
      const rows = table.rows.map((row) => {
        const cells = [...row];
        if (cells[column("reading")] === "r053") change(cells, column);
        return cells;
      });
      return { ...campaign, tables: { ...campaign.tables, "output-factors": { ...table, rows } } };
    };
    for (const change of [
      (cells: string[], column: (name: string) => number) => (cells[column("signal_green")] = "1.2739"),
      (cells: string[], column: (name: string) => number) => (cells[column("exclude")] = "door open"),
    ]) {
      const { quantities } = compareEvaluations(evaluate(demonstration()), evaluate(demonstrated(change)));
      const found = quantities.filter((one) => one.id.startsWith("output-factor.") && changed(one));
      expect(found.map(({ id }) => id)).toEqual(["output-factor.cone-5"]);
      expect(found[0]!.attributions.map(({ input }) => input)).toEqual(["output-factors/r053"]);
      expect(Math.abs(found[0]!.remainder / found[0]!.change)).toBeLessThan(1e-4);
    }
  });

  it("two changes stand beside each other", () => {
    const after = drifting("exact fit", ({ separation, "output-factors": fields }) => {
      multiply("signal_blue", 1.002)(separation[0]!);
      multiply("signal_blue", 0.999)(fields[7]!);
    });
    const { quantities } = compareEvaluations(BEFORE["exact fit"], evaluate(after));
    const ten = quantities.find(({ id }) => id === "output-factor.10x10")!;
    expect(ten.attributions.map(({ input }) => input)).toEqual(["output-factors/10x10-2", "separation/short-1"]);
    const sum = ten.attributions.reduce((total, { change }) => total + change, ten.remainder);
    expect(sum).toBeCloseTo(ten.change, 15);
  });

  it("an assumption that was changed is named with both of its values", () => {
    const after = madeUpCampaign((_, { alcedo }) => {
      alcedo.assumptions!.outputCorrection = { value: 1.002, u: 0.005 };
    });
    const { quantities } = compareEvaluations(evaluate(madeUpCampaign()), evaluate(after));
    const five = quantities.find(({ id }) => id === "output-factor.5x5")!;
    expect(five.attributions).toMatchObject([{ input: "output-correction", before: 1, after: 1.002 }]);
    expect(five.attributions[0]!.change).toBeCloseTo(five.change, 14);
  });

  it("gives both uncertainties, and tells what stands on one side only", () => {
    const after = madeUpCampaign(({ "output-factors": fields, calibration }) => {
      for (const row of fields) if (row["condition"] === "5x5") row["condition"] = "6x6";
      for (const row of calibration) row["dose_u_percent"] = 1.4;
    });
    const { quantities, onlyBefore, onlyAfter } = compareEvaluations(evaluate(madeUpCampaign()), evaluate(after));
    expect(onlyBefore).toContain("output-factor.5x5");
    expect(onlyAfter).toContain("output-factor.6x6");
    const coefficient = quantities.find(({ id }) => id === "calibration.coefficient")!;
    expect(coefficient.uAfter! / coefficient.uBefore!).toBeCloseTo(2, 1);
    expect(coefficient).toMatchObject({ change: 0, symbol: "N_D", unit: "Gy/nC" });
  });

  it("with a campaign that could not be evaluated there is nothing to compare", () => {
    const broken = evaluate(madeUpCampaign(({ separation }) => (separation[0]!["signal_blue"] = "x")));
    const { quantities, onlyBefore } = compareEvaluations(evaluate(madeUpCampaign()), broken);
    expect(quantities).toEqual([]);
    expect(onlyBefore.length).toBeGreaterThan(40);
  });
});
