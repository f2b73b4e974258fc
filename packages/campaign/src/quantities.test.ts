import { describe, expect, it } from "vitest";
import { evaluate } from "./evaluate.ts";
import type { Quantity } from "./result.ts";
import {
  demonstration,
  exactCampaign,
  type MadeUpTables,
  madeUpCampaign,
  put,
  rowsOf,
  scale,
} from "./testing/made-up-campaign.ts";

type Change = Parameters<typeof madeUpCampaign>[0];

const quantitiesOf = (change?: Change): readonly Quantity[] => evaluate(madeUpCampaign(change)).result.quantities;
const byId = (quantities: readonly Quantity[]) => Object.fromEntries(quantities.map((one) => [one.id, one]));

/** What the tip's size and place do to the smallest field, whose readings were made up for a point. */
const corrections = (found: Readonly<Record<string, Quantity>>) =>
  found["volume-averaging.5x5"]!.value * found["positioning.5x5"]!.value;

describe("the quantities of a result", () => {
  it("have the ids and units of docs/format.md", () => {
    const units: Record<string, string> = {
      "background.blue": "nC/s",
      "separation.stem-ratio": "1",
      "separation.contrast": "1",
      "separation.chi2": "1",
      "separation.verified-stem-load": "1",
      "separation.verify.half": "1",
      "calibration.coefficient": "Gy/nC",
      "signal.output-factors.5x5": "nC",
      "signal.calibration.reference": "nC",
      "dose.output-factors.5x5": "Gy",
      "dose.separation.short": "Gy",
      "stem-load.output-factors.5x5": "1",
      "subtracted-fraction.separation.long": "1",
      "output-factor.5x5": "1",
      "output-factors.drift": "1",
      "volume-averaging.5x5": "1",
      "volume-averaging.100x100": "1",
      "positioning.5x5": "1",
      "equivalent-square.5x5": "mm",
    };
    const found = byId(quantitiesOf());
    for (const [id, unit] of Object.entries(units)) expect([id, found[id]?.unit]).toEqual([id, unit]);
    const known = new RegExp(
      "^(background|separation|calibration|signal|dose|stem-load|subtracted-fraction|output-factors?|" +
        "volume-averaging|positioning|equivalent-square)\\.",
    );
    for (const id of Object.keys(found)) expect(id).toMatch(known);
  });

  it("have each their own id, a label and a symbol", () => {
    for (const quantities of [quantitiesOf(), evaluate(demonstration()).result.quantities]) {
      expect(new Set(quantities.map(({ id }) => id)).size).toBe(quantities.length);
      for (const { label, symbol } of quantities) {
        expect(label.length).toBeGreaterThan(4);
        expect(symbol.length).toBeGreaterThan(0);
      }
    }
  });

  it("have budgets whose shares add up to one, in the demonstration too", () => {
    for (const quantities of [quantitiesOf(), evaluate(demonstration()).result.quantities])
      for (const { budget, u, id } of quantities)
        if (u) expect([id, budget.reduce((sum, { share }) => sum + share, 0)]).toEqual([id, expect.closeTo(1, 10)]);
  });

  it("come in the order of the chain", () => {
    const stages = quantitiesOf().map(({ id }) => id.split(".")[0]!);
    const order = [...new Set(stages)];
    expect(order.slice(0, 4)).toEqual(["background", "separation", "calibration", "signal"]);
    expect(order.indexOf("output-factor")).toBeGreaterThan(order.indexOf("dose"));
  });

  it("of a reading as it stands are not normalised: signal and dose follow the monitor units", () => {
    const twice = byId(
      quantitiesOf(({ "output-factors": fields }) => {
        for (const row of rowsOf(fields, "5x5")) {
          row["signal_blue"] = 2 * (Number(row["signal_blue"]) - 0.024) + 0.024;
          row["signal_green"] = 2 * (Number(row["signal_green"]) - 0.012) + 0.012;
          row["mu"] = 200;
          row["monitor"] = (2 * Number(row["monitor"])).toFixed(4);
        }
      }),
    );
    expect(twice["dose.output-factors.5x5"]!.value).toBeCloseTo(1, 3);
    expect(twice["signal.output-factors.5x5"]!.value).toBeCloseTo(3.875, 2);
    expect(twice["output-factor.5x5"]!.value / corrections(twice)).toBeCloseTo(0.5, 3);
  });

  it("of the reference field are those of all its visits", () => {
    const found = byId(
      quantitiesOf(({ "output-factors": fields }) => {
        scale(fields.slice(-3), "signal_blue", 1.01);
      }),
    );
    const first = byId(quantitiesOf())["signal.output-factors.100x100"]!.value;
    // two visits of three readings each: half of the 1 % of 6.5 nC
    expect(found["signal.output-factors.100x100"]!.value - first).toBeCloseTo(0.0325, 3);
  });

  it("of the reference field count its visits by their readings", () => {
    const found = byId(
      quantitiesOf((tables) => {
        tables["output-factors"] = tables["output-factors"].slice(0, -2); // three readings, and one at the end
        scale(tables["output-factors"].slice(-1), "signal_blue", 1.01);
      }),
    );
    const first = byId(quantitiesOf((tables) => (tables["output-factors"] = tables["output-factors"].slice(0, -2))));
    const move = (id: string) => found[id]!.value - first[id]!.value;
    // one of four readings: a quarter of the 1 % of 6.5 nC
    expect(move("signal.output-factors.100x100")).toBeCloseTo(0.065 / 4, 3);
  });

  it("take dose from the calibration where there is one, and set the separation's own coefficient beside it", () => {
    const both = byId(
      quantitiesOf(({ separation, calibration }) => {
        for (const row of separation) Object.assign(row, { dose_Gy: 1.02, dose_u_Gy: 0.01 });
        for (const row of calibration) row["dose_Gy"] = 1;
      }),
    );
    expect(both["calibration.coefficient"]!.value).toBeCloseTo(1 / 3.875, 3);
    expect(both["separation.coefficient"]!.value).toBeCloseTo(1.02 / 3.875, 3);
    expect(both["dose.output-factors.5x5"]!.value).toBeCloseTo(0.5, 3);
    const difference = both["separation.coefficient-difference"]!;
    expect(Math.abs(difference.value - 0.02)).toBeLessThan(0.001);
    // through the graph: the two doses' uncertainties, 1 % of 1.02 and 0.7 %, and nothing that the two share
    expect(difference.u).toBeCloseTo(1.02 * Math.hypot(0.01 / 1.02, 0.007), 3);
  });

  it("take dose from the separation where there is no calibration, and give none where nothing ties them", () => {
    const without = (dose: boolean) =>
      byId(
        quantitiesOf((tables) => {
          delete (tables as MadeUpTables).calibration;
          if (dose) for (const row of tables.separation) row["dose_Gy"] = 1;
        }),
      );
    expect(without(true)["dose.output-factors.5x5"]!.value).toBeCloseTo(0.5, 3);
    expect(Object.keys(without(false)).filter((id) => id.startsWith("dose."))).toEqual([]);
    const loose = without(false);
    expect(loose["output-factor.5x5"]!.value / corrections(loose)).toBeCloseTo(0.5, 3);
  });

  it("name the separation's weights where there are more than two channels", () => {
    const { quantities, standing } = evaluate(
      madeUpCampaign((tables, { alcedo }) => {
        alcedo.detector.channels = ["blue", "green", "red"];
        for (const row of Object.values(tables).flat()) row["signal_red"] = 0.9 * Number(row["signal_green"]);
        for (const row of rowsOf(tables.separation, "half")) {
          row["role"] = "fit";
          row["signal_red"] = Number(row["signal_red"]) + 2;
          row["signal_blue"] = Number(row["signal_blue"]) + 0.4; // a second kind of stem light, red above all
        }
      }),
    ).result;
    const found = byId(quantities);
    expect(found["separation.weight.red"]!.value).toBeCloseTo(-0.2, 1);
    expect(found["separation.weight.green"]).toBeDefined();
    expect(found).not.toHaveProperty("separation.stem-ratio");
    expect(found).not.toHaveProperty("separation.residual-slope");
    expect(standing).not.toBe("broken");
  });

  it("have the slope of the residuals where two conditions were kept aside", () => {
    const found = byId(quantitiesOf());
    expect(Math.abs(found["separation.residual-slope"]!.value)).toBeLessThan(found["separation.residual-slope"]!.U!);
    const one = byId(
      quantitiesOf((t) => (t.separation = t.separation.filter(({ condition }) => condition !== "half"))),
    );
    expect(one).not.toHaveProperty("separation.residual-slope");
  });

  it("of a fit with something left to disagree have χ² with its degrees of freedom and p", () => {
    const found = byId(quantitiesOf(({ separation }) => put(rowsOf(separation, "half"), "role", "fit")));
    expect(found["separation.chi2"]).toMatchObject({ dof: 1, u: null, k: null, U: null, budget: [] });
    expect(found["separation.chi2"]!.p).toBeGreaterThan(0);
    expect(byId(quantitiesOf())["separation.chi2"]).not.toHaveProperty("p");
  });

  it("without any repeats are given with u of the known components, and null for what cannot be known", () => {
    const single = madeUpCampaign(undefined, { repeats: 1 });
    const { quantities } = evaluate(single).result;
    const factor = byId(quantities)["output-factor.5x5"]!;
    expect(factor).toMatchObject({ typeA: "unknown", dof: null, k: null, U: null });
    expect(factor.u).toBeGreaterThan(0.0025); // half a per cent of the output correction is known
    expect(byId(quantities)["background.blue"]).not.toHaveProperty("typeA");
  });

  it("are those of the stages that were not stopped", () => {
    const ids = (change: Change) => quantitiesOf(change).map(({ id }) => id.split(".").slice(0, 2).join("."));
    const dead = ids(({ calibration }) => put(calibration, "signal_green", 0));
    expect(dead).not.toContain("calibration.coefficient");
    expect(dead.some((id) => id.startsWith("dose."))).toBe(false);
    expect(dead).toContain("output-factor.5x5"); // it does not rest on the calibration
    const noReference = ids(({ "output-factors": fields }) => put(fields, "role", "field"));
    expect(noReference).toContain("calibration.coefficient");
    expect(noReference.some((id) => id.startsWith("output-factor."))).toBe(false);
  });

  it("of the exact set stand in a budget by the inputs' keys", () => {
    const found = byId(evaluate(exactCampaign()).result.quantities)["output-factor.6x6"]!;
    const inputs = found.budget.map(({ input }) => input);
    expect(inputs).toContain("output-correction");
    expect(inputs).toContain("separation/much/dose-equality");
    expect(inputs).toContain("output-factors/6x6/resolution/blue");
  });
});
