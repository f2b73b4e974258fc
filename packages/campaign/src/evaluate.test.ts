import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evaluate, exitStatus } from "./evaluate.ts";
import type { Finding } from "./finding.ts";
import type { Quantity } from "./result.ts";
import {
  demonstration,
  exactCampaign,
  type MadeUpTables,
  madeUpCampaign,
  rowsOf,
  scale,
} from "./testing/made-up-campaign.ts";

type Signals = readonly [number, number];

/** The values of an evaluation by id. */
function valuesOf(campaign: Parameters<typeof evaluate>[0]): Record<string, Quantity> {
  return Object.fromEntries(evaluate(campaign).result.quantities.map((quantity) => [quantity.id, quantity]));
}

/** Signals of the exact set's 40 cm of fibre, with a mistake. */
const much = (blue: number, green: number): Record<string, Signals> => ({ much: [17 * blue, 17.5 * green] });
const ASIDE: Record<string, Signals> = { half: [11, 9.5], long: [23, 25.5] };

describe("the exact set of docs/checks.md (Light, C)", () => {
  it("gives stem ratio 0.75, coefficient 0.258065 Gy/nC and 0.60 Gy in the small field", () => {
    const found = valuesOf(exactCampaign());
    expect(found["separation.stem-ratio"]!.value).toBeCloseTo(0.75, 12);
    expect(found["calibration.coefficient"]!.value).toBeCloseTo(0.258065, 6);
    expect(found["dose.output-factors.6x6"]!.value).toBeCloseTo(0.6, 12);
    // the exact set is of doses at a point; the tip's size and place correct the output factor beyond it
    const corrections = found["volume-averaging.6x6"]!.value * found["positioning.6x6"]!.value;
    expect(found["output-factor.6x6"]!.value / corrections).toBeCloseTo(0.6, 12);
    expect(corrections).toBeCloseTo(1.0075, 4);
  });

  it("is untested with two conditions", () => {
    const { result } = evaluate(exactCampaign());
    expect(result.standing).toBe("untested");
    expect(result.stages.map(({ id, standing }) => [id, standing])).toEqual([
      ["separation", "untested"],
      ["calibration", "untested"],
      ["output-factors", "untested"],
    ]);
    expect(result.findings.map(({ code }) => code)).toContain("separation-untested");
  });

  it("is sound with the 20 and the 60 cm condition kept aside", () => {
    const { result } = evaluate(exactCampaign({ ...much(1, 1), ...ASIDE }, ["half", "long"]));
    expect(result.standing).toBe("sound");
    const found = Object.fromEntries(result.quantities.map((quantity) => [quantity.id, quantity]));
    expect(found["separation.verify.half"]!.value).toBeCloseTo(0, 10);
    expect(found["separation.verify.long"]!.value).toBeCloseTo(0, 10);
    expect(found["separation.verified-stem-load"]!.value).toBeCloseTo(25.5 / 3.875, 10);
  });

  it("gives the listed values for the mistakes listed there, and each is found out", () => {
    const wrong: [string, number, Record<string, Signals>][] = [
      ["output +1 % with much fibre", 0.7527, much(1.01, 1.01)],
      ["both lights +3 % with much fibre", 0.758, much(1.03, 1.03)],
      ["second channel −5 % with much fibre", 0.8, much(1, 0.95)],
    ];
    for (const [, ratio, conditions] of wrong) {
      const { result } = evaluate(exactCampaign({ ...conditions, ...ASIDE }, ["half", "long"]));
      const found = result.quantities.find(({ id }) => id === "separation.stem-ratio")!;
      expect(found.value).toBeCloseTo(ratio, 4);
      expect(result.standing).toBe("broken");
      expect(result.findings.map(({ code }) => code)).toContain("verification-failed");
      // alone nothing would have shown
      expect(evaluate(exactCampaign(conditions)).result.standing).toBe("untested");
    }
  });

  it("refuses swapped channels, and says what the ratio would be", () => {
    const evaluation = evaluate(exactCampaign({ much: [17.5, 17] }, [], [3.5, 6.5]));
    const { result } = evaluation;
    const found = Object.fromEntries(result.quantities.map((quantity) => [quantity.id, quantity]));
    expect(found["separation.stem-ratio"]!.value).toBeCloseTo(1.3333, 4);
    expect(Object.keys(found)).toEqual(["separation.stem-ratio", "separation.chi2"]);
    const refusal = result.findings.find(({ code }) => code === "signal-not-positive")!;
    expect(refusal.message).toContain("1.3333");
    expect(refusal.message).toContain("0.75");
    expect(refusal.remedy).toContain("swapped");
    expect(exitStatus(evaluation)).toBe(1);
  });
});

describe("an evaluation", () => {
  it("has the campaign's name, its digest, the worst standing, stages, quantities and findings", () => {
    const { result } = evaluate(madeUpCampaign());
    expect(Object.keys(result)).toEqual([
      "alcedo",
      "campaign",
      "input",
      "standing",
      "stages",
      "quantities",
      "findings",
    ]);
    expect(result.campaign).toBe("made-up");
    expect(result.input).toMatch(/^sha256:[0-9a-f]{64}$/);
    expect(result.standing).toBe("sound");
    expect(result.stages.map(({ id }) => id)).toEqual(["background", "separation", "calibration", "output-factors"]);
  });

  it("of the same campaign is the same to the last byte", () => {
    for (const campaign of [madeUpCampaign, demonstration]) {
      const [once, twice] = [evaluate(campaign()), evaluate(campaign())];
      expect(JSON.stringify(once.result)).toBe(JSON.stringify(twice.result));
    }
  });

  it("finds the truth that the made-up detector was given, within its uncertainty", () => {
    const found = valuesOf(madeUpCampaign());
    const truth = {
      "separation.stem-ratio": 0.75,
      "calibration.coefficient": 1 / 3.875,
      "output-factor.30x30": 0.88,
      "output-factor.10x10": 0.7,
      "output-factor.5x5": 0.5,
      "separation.verify.half": 0,
      "separation.verify.turned": 0,
      "background.blue": 0.0012,
      "background.green": 0.0006,
    };
    for (const [id, value] of Object.entries(truth)) {
      expect(Math.abs(found[id]!.value - value)).toBeLessThan(found[id]!.U!);
      expect(found[id]!.u).toBeGreaterThan(0);
    }
  });

  it("puts errors before warnings before notices", () => {
    const { findings } = evaluate(
      madeUpCampaign((tables, { alcedo }) => {
        delete alcedo.assumptions;
        for (const row of tables["output-factors"]) row["role"] = "field";
        scale(rowsOf(tables.separation, "turned"), "signal_green", 0.98);
      }),
    ).result;
    const levels = findings.map(({ level }) => level);
    expect(new Set(levels)).toEqual(new Set(["error", "warning", "notice"]));
    expect(levels).toEqual([...levels].sort((a, b) => "ewn".indexOf(a[0]!) - "ewn".indexOf(b[0]!)));
  });

  it("stands behind what was found in the folder, which is not said twice", () => {
    const notice: Finding = { level: "notice", code: "file-unlisted", message: "extra.csv is not read." };
    const renamed = madeUpCampaign((tables) => {
      for (const row of rowsOf(tables["output-factors"], "5x5")) row["condition"] = "5 x 5";
    });
    const own = evaluate(renamed).result.findings;
    const { findings } = evaluate(renamed, [notice, ...own.filter(({ code }) => code === "name-renamed")]).result;
    expect(findings.map(({ code }) => code)).toEqual(["file-unlisted", ...own.map(({ code }) => code)]);
  });

  it("does not take place where the campaign's form holds an error, and says why", () => {
    const evaluation = evaluate(
      madeUpCampaign(({ separation }) => {
        separation[3]!["signal_blue"] = "six";
      }),
    );
    expect(evaluation.result).toMatchObject({ standing: "broken", stages: [], quantities: [] });
    expect(evaluation.result.findings.map(({ code }) => code)).toContain("number-malformed");
    expect(evaluation.model).toBeUndefined();
    expect(evaluation.nodes.size).toBe(0);
    expect(exitStatus(evaluation)).toBe(2);
  });

  it("does not take place where reading the folder found an error", () => {
    const error: Finding = { level: "error", code: "file-absent", message: "calibration.csv is not there." };
    const evaluation = evaluate(madeUpCampaign(), [error]);
    expect(exitStatus(evaluation)).toBe(2);
    expect(evaluation.result.findings).toEqual([error]);
  });

  it("has exit status 0 where nothing failed and 1 where a standing is broken", () => {
    expect(exitStatus(evaluate(madeUpCampaign()))).toBe(0);
    expect(exitStatus(evaluate(exactCampaign()))).toBe(0); // untested is not failed
    const failed = madeUpCampaign(({ separation }) => scale(rowsOf(separation, "turned"), "signal_green", 0.98));
    expect(exitStatus(evaluate(failed))).toBe(1);
  });

  it("names nodes only for quantities that have one", () => {
    const { nodes, result } = evaluate(madeUpCampaign());
    const without = result.quantities.filter(({ id }) => !nodes.has(id)).map(({ id }) => id);
    expect(without).toEqual(["separation.chi2"]);
    for (const [id, node] of nodes) expect(result.quantities.find((one) => one.id === id)!.value).toBe(node.value);
  });
});

describe("whatever a campaign holds", () => {
  const plain = (value: unknown): boolean =>
    typeof value === "number"
      ? Number.isFinite(value)
      : value === null || typeof value !== "object" || Object.values(value).every(plain);

  it("the evaluation throws nothing, its numbers are finite, and the shares of every budget add up to one", () => {
    const tables = ["background", "separation", "calibration", "output-factors"] as const;
    const columns = [
      "signal_blue",
      "signal_green",
      "monitor",
      "mu",
      "temperature_C",
      "duration_s",
      "dose_Gy",
      "fwhm_x_mm",
    ];
    const edit = fc.record({
      table: fc.constantFrom(...tables),
      column: fc.constantFrom(...columns, "exclude", "role", "condition", "dose_group"),
      from: fc.double({ min: 0, max: 1, noNaN: true }),
      count: fc.constantFrom(1, 3, 100),
      to: fc.constantFrom<(at: unknown) => string | number | undefined>(
        () => 0,
        () => undefined,
        () => "",
        (at) => -Number(at),
        (at) => 3 * Number(at),
        (at) => 1.01 * Number(at),
        () => 1e-9,
        () => "fit",
        () => "verify",
        () => "field",
        () => "reference",
        () => "intercept",
        () => "corrected",
        () => "short",
        () => "left out",
      ),
      drop: fc.constantFrom("no", "no", "no", "no", "table"),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), (edits) => {
        const campaign = madeUpCampaign((made) => {
          for (const { table, column, from, count, to, drop } of edits) {
            const rows = (made as MadeUpTables)[table];
            if (!rows) continue;
            if (drop === "table" && Object.keys(made).length > 1) {
              delete (made as MadeUpTables)[table];
              continue;
            }
            const first = Math.floor(from * rows.length);
            for (const row of rows.slice(first, first + count)) row[column] = to(row[column]);
          }
        });
        const { result } = evaluate(campaign);
        expect(plain(result)).toBe(true);
        for (const { budget, u } of result.quantities)
          if (u !== null && u > 0) expect(budget.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
        if (result.quantities.length === 0) expect(result.findings.some(({ level }) => level === "error")).toBe(true);
      }),
      { numRuns: 250 },
    );
  });

  it("names that look like parts of keys are names all the same", () => {
    for (const name of [
      "intercept",
      "net",
      "corrected",
      "mean-monitor",
      "temperature",
      "dose",
      "repeats",
      "resolution",
    ]) {
      const { result } = evaluate(
        madeUpCampaign(({ separation, calibration, "output-factors": fields }) => {
          for (const row of rowsOf(separation, "half")) row["condition"] = name;
          for (const row of separation) row["dose_group"] = name;
          for (const row of calibration) row["condition"] = name;
          for (const row of rowsOf(fields, "5x5")) row["condition"] = name;
        }),
      );
      expect(result.standing).toBe("sound");
      expect(result.quantities.map(({ id }) => id)).toContain(`output-factor.${name}`);
    }
  });
});
