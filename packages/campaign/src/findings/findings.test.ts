import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Descriptor } from "../descriptor.ts";
import { evaluate } from "../evaluate.ts";
import type { Finding } from "../finding.ts";
import {
  demonstration,
  type MadeUpRow,
  type MadeUpTables,
  madeUpCampaign,
  put,
  rowsOf,
  scale,
} from "../testing/made-up-campaign.ts";
import { onAnotherDay } from "../testing/other-day.ts";
import { RULES } from "./rules.ts";

type Change = (tables: Required<MadeUpTables>, descriptor: Descriptor, more: { characterisation?: unknown }) => void;

/** Two campaigns that differ in little: in one the rule speaks, in the other it is silent. */
interface Fixture {
  readonly fires: Change;
  readonly silent: Change;
}

const unchanged: Change = () => undefined;

/** Some columns of rows taken out. */
function without(rows: readonly MadeUpRow[], ...columns: string[]): void {
  for (const row of rows) for (const column of columns) delete row[column];
}

/** Rows of a series, with one reading of each condition left. */
function once(rows: readonly MadeUpRow[]): MadeUpRow[] {
  return rows.filter((row, i) => rows.findIndex((other) => other["condition"] === row["condition"]) === i);
}

/** Net signals of a condition times that, the background left as it is. */
function brighten(rows: readonly MadeUpRow[], factor: number): void {
  for (const [column, dark] of [
    ["signal_blue", 0.024],
    ["signal_green", 0.012],
  ] as const)
    for (const row of rows) row[column] = dark + (Number(row[column]) - dark) * factor;
}

/** Signals written to fewer decimals than the other rows have. */
function writeTo(rows: readonly MadeUpRow[], decimals: number): void {
  for (const row of rows)
    for (const column of ["signal_blue", "signal_green"]) row[column] = Number(row[column]).toFixed(decimals);
}

function swap(rows: readonly MadeUpRow[]): void {
  for (const row of rows) {
    const { signal_blue, signal_green } = row;
    row["signal_blue"] = signal_green;
    row["signal_green"] = signal_blue;
  }
}

/** A table of invented output corrections at some sizes, 1.02 at the first and 1 at the last. */
function corrections(tables: Required<MadeUpTables>, sizes: readonly number[], more: MadeUpRow = {}): void {
  tables["output-corrections"] = sizes.map((equivalent_square_mm, i) => ({
    equivalent_square_mm,
    output_correction: i === 0 ? 1.02 : i === sizes.length - 1 ? 1 : 1.008,
    u_percent: i === sizes.length - 1 ? 0 : 0.4,
    source: "invented",
    volume_averaging: "apart",
    ...more,
  }));
}

const FIXTURES: Readonly<Record<string, Fixture>> = {
  "verification-failed": {
    fires: ({ separation }) => brighten(rowsOf(separation, "turned"), 0.99),
    silent: ({ separation }) => brighten(rowsOf(separation, "turned"), 0.998),
  },
  "separation-inconsistent": {
    fires: ({ separation }) => {
      put(rowsOf(separation, "half"), "role", "fit");
      brighten(rowsOf(separation, "half"), 1.01);
    },
    silent: ({ separation }) => put(rowsOf(separation, "half"), "role", "fit"),
  },
  "separation-untested": {
    fires: (tables) => {
      tables.separation = tables.separation.filter(({ role }) => role === "fit");
    },
    silent: ({ separation }) => {
      separation.splice(0, separation.length, ...separation.filter(({ condition }) => condition !== "half"));
    },
  },
  "verification-inconclusive": {
    fires: ({ separation }) => {
      rowsOf(separation, "half").forEach((row, i) => {
        brighten([row], [1.01, 0.99, 1.002][i]!);
      });
    },
    silent: unchanged,
  },
  "contrast-low": {
    fires: (tables) => {
      put(rowsOf(tables.separation, "turned"), "role", "fit");
      tables.separation = tables.separation.filter(({ condition }) => condition === "long" || condition === "turned");
    },
    silent: unchanged,
  },
  "lone-condition": {
    fires: ({ separation }) => {
      put(rowsOf(separation, "half"), "role", "fit");
      put(rowsOf(separation, "half"), "dose_group", "another");
    },
    silent: ({ separation }) => put(rowsOf(separation, "half"), "role", "fit"),
  },
  "type-a-unknown": {
    fires: (tables) => {
      tables.calibration = once(tables.calibration);
    },
    silent: (tables) => {
      tables.separation = [...tables.separation.slice(0, 3), ...once(tables.separation.slice(3))];
    },
  },
  "scatter-uneven": {
    fires: ({ "output-factors": fields }) => scale(rowsOf(fields, "10x10").slice(1, 2), "signal_blue", 1.05),
    silent: ({ "output-factors": fields }) => scale(rowsOf(fields, "10x10").slice(1, 2), "signal_blue", 1.00005),
  },
  "stem-load-beyond-verified": {
    fires: (tables) => {
      tables.separation = tables.separation.filter(({ condition }) => condition !== "turned");
      for (const row of rowsOf(tables.calibration, "reference")) {
        row["signal_blue"] = Number(row["signal_blue"]) + 0.75 * 10;
        row["signal_green"] = Number(row["signal_green"]) + 10;
      }
    },
    silent: (tables) => {
      tables.separation = tables.separation.filter(({ condition }) => condition !== "turned");
    },
  },
  "monitor-sees-field": {
    fires: ({ "output-factors": fields }) => scale(rowsOf(fields, "5x5"), "monitor", 0.98),
    silent: ({ "output-factors": fields }) => scale(rowsOf(fields, "5x5"), "monitor", 0.9995),
  },
  "reference-drift": {
    fires: ({ "output-factors": fields }) => brighten(fields.slice(-3), 1.02),
    silent: ({ "output-factors": fields }) => brighten(fields.slice(-3), 1.003),
  },
  "not-normalised": {
    fires: ({ "output-factors": fields }) => without(fields, "mu", "monitor"),
    silent: ({ "output-factors": fields }) => without(fields, "monitor"),
  },
  "field-width-nominal": {
    fires: ({ "output-factors": fields }) => without(rowsOf(fields, "5x5"), "fwhm_x_mm", "fwhm_y_mm"),
    silent: unchanged,
  },
  "field-too-oblong": {
    fires: ({ "output-factors": fields }) => put(rowsOf(fields, "30x30"), "fwhm_x_mm", 45),
    silent: ({ "output-factors": fields }) => put(rowsOf(fields, "30x30"), "fwhm_x_mm", 40),
  },
  "background-absent": {
    fires: (tables) => {
      delete (tables as MadeUpTables).background;
    },
    silent: unchanged,
  },
  "calibration-absent": {
    fires: (tables) => {
      delete (tables as MadeUpTables).calibration;
    },
    silent: (tables) => {
      delete (tables as MadeUpTables).calibration;
      put(tables.separation, "dose_Gy", 1);
    },
  },
  "corrections-not-computed": {
    fires: (_, descriptor) => {
      delete (descriptor.alcedo.detector as { activeVolume?: unknown }).activeVolume;
    },
    silent: unchanged,
  },
  "field-narrower-than-blur": {
    fires: ({ "output-factors": fields }) => {
      put(rowsOf(fields, "5x5"), "fwhm_x_mm", 3.5);
      put(rowsOf(fields, "5x5"), "fwhm_y_mm", 3.5);
    },
    silent: unchanged,
  },
  "set-disagrees": {
    fires: (tables) => {
      tables["reference-set"] = [{ condition: "5x5", output_factor: 0.6, u_percent: 1, source: "another detector" }];
    },
    silent: (tables) => {
      tables["reference-set"] = [{ condition: "5x5", output_factor: 0.505, u_percent: 1, source: "another detector" }];
    },
  },
  "set-too-short": {
    fires: (tables) => {
      tables["reference-set"] = [
        { equivalent_square_mm: 8, output_factor: 0.66, u_percent: 1, source: "plan" },
        { equivalent_square_mm: 12, output_factor: 0.73, u_percent: 1, source: "plan" },
      ];
    },
    silent: unchanged,
  },
  "correction-table-too-short": {
    fires: (tables) => corrections(tables, [8, 12, 100]),
    silent: (tables) => corrections(tables, [5, 10, 100]),
  },
  "correction-table-without-reference": {
    fires: (tables) => corrections(tables, [5, 10, 80]),
    silent: (tables) => corrections(tables, [5, 10, 95]),
  },
  "correction-at-table-end": {
    fires: (tables) => corrections(tables, [5.3, 10, 100]),
    silent: (tables) => corrections(tables, [5.06, 10, 100]),
  },
  "volume-averaging-in-table": {
    fires: (tables) => corrections(tables, [5, 10, 100], { volume_averaging: undefined }),
    silent: (tables) => corrections(tables, [5, 10, 100], { volume_averaging: "included" }),
  },
  "output-correction-replaced": {
    fires: (tables) => corrections(tables, [5, 10, 100]),
    silent: (tables, { alcedo }) => {
      corrections(tables, [5, 10, 100]);
      delete alcedo.assumptions!.outputCorrection;
    },
  },
  "single-reading": {
    fires: (tables) => {
      const [kept] = rowsOf(tables["output-factors"], "10x10");
      tables["output-factors"] = tables["output-factors"].filter((row) => row["condition"] !== "10x10" || row === kept);
    },
    silent: (tables) => {
      tables["output-factors"] = once(tables["output-factors"]); // nobody repeated: another finding says so
    },
  },
  "reading-alone": {
    fires: ({ "output-factors": fields }) => brighten(rowsOf(fields, "10x10").slice(0, 1), 1.03),
    silent: ({ "output-factors": fields }) => brighten(rowsOf(fields, "10x10").slice(0, 1), 1.0001),
  },
  "rows-repeated": {
    fires: ({ calibration }) => {
      calibration.push({ ...calibration[0], reading: "copy" });
    },
    silent: ({ calibration }) => {
      calibration.push({ ...calibration[0], reading: "copy", time: "2026-03-12T23:00:00+01:00" });
    },
  },
  "background-moved": {
    fires: ({ background }) => scale(rowsOf(background, "after"), "signal_blue", 1.5),
    silent: ({ background }) => scale(rowsOf(background, "after"), "signal_blue", 1.02),
  },
  "coefficients-disagree": {
    fires: ({ separation, calibration }) => {
      put(separation, "dose_Gy", 1);
      put(calibration, "dose_Gy", 1.05);
    },
    silent: ({ separation }) => put(separation, "dose_Gy", 1),
  },
  "fibre-out-of-order": {
    fires: ({ separation }) => {
      put(rowsOf(separation, "half"), "fibre_mm", 600);
      put(rowsOf(separation, "turned"), "fibre_mm", 200);
    },
    silent: ({ separation }) => without(separation, "fibre_mm"),
  },
  "dose-uncertainty-small": {
    fires: ({ calibration }) => put(calibration, "dose_u_percent", 0.007),
    silent: ({ calibration }) => put(calibration, "dose_u_percent", 0.3),
  },
  "temperature-unlikely": {
    fires: ({ calibration }) => put(calibration.slice(0, 1), "temperature_C", 45),
    silent: ({ calibration }) => put(calibration.slice(0, 1), "temperature_C", 27),
  },
  "field-width-unlikely": {
    fires: ({ "output-factors": fields }) => put(rowsOf(fields, "10x10"), "fwhm_x_mm", 12),
    silent: ({ "output-factors": fields }) => put(rowsOf(fields, "10x10"), "fwhm_x_mm", 10.6),
  },
  "output-factor-out-of-line": {
    fires: ({ "output-factors": fields }) => {
      put(rowsOf(fields, "10x10"), "condition", "aside");
      put(rowsOf(fields, "30x30"), "condition", "10x10");
      put(rowsOf(fields, "aside"), "condition", "30x30");
      for (const name of ["10x10", "30x30"])
        for (const row of rowsOf(fields, name))
          for (const column of ["x_mm", "y_mm", "fwhm_x_mm", "fwhm_y_mm"]) row[column] = name === "10x10" ? 10 : 30;
    },
    silent: unchanged,
  },
  "monitor-units-do-not-fit": {
    fires: ({ "output-factors": fields }) => put(rowsOf(fields, "10x10").slice(0, 1), "mu", 200),
    silent: ({ "output-factors": fields }) => {
      put(rowsOf(fields, "10x10"), "mu", 200);
      scale(rowsOf(fields, "10x10"), "monitor", 2);
    },
  },
  "dose-does-not-fit": {
    fires: ({ calibration }) => put(calibration, "dose_Gy", 100),
    silent: ({ calibration }) => put(calibration, "dose_Gy", 0.8),
  },
  "duration-does-not-fit": {
    fires: ({ background }) => put(background, "duration_s", 40),
    silent: ({ background }) => put(background, "duration_s", 22),
  },
  "time-does-not-fit": {
    fires: ({ "output-factors": fields }) =>
      put(rowsOf(fields, "10x10").slice(0, 1), "time", "2026-03-12T19:00:00+01:00"),
    silent: ({ "output-factors": fields }) => {
      fields.reverse(); // sorted by something else
    },
  },
  "temperature-does-not-fit": {
    fires: ({ calibration }) => put(calibration.slice(0, 1), "temperature_C", 27),
    silent: ({ calibration }) => put(calibration.slice(0, 1), "temperature_C", 23),
  },
  "channel-dark": {
    fires: ({ "output-factors": fields }) => put(rowsOf(fields, "10x10"), "signal_green", 0.05),
    silent: ({ "output-factors": fields }) => scale(rowsOf(fields, "10x10"), "signal_green", 0.5),
  },
  "digits-fewer": {
    fires: ({ "output-factors": fields }) => writeTo(rowsOf(fields, "10x10"), 2),
    silent: ({ "output-factors": fields }) => {
      writeTo(rowsOf(fields, "10x10").slice(0, 1), 3); // a zero dropped at the end
      writeTo(rowsOf(fields, "100x100"), 3); // the largest field: the reader's next range
    },
  },
  "output-factor-flattens": {
    fires: ({ "output-factors": fields }) => brighten(rowsOf(fields, "30x30"), 0.9),
    silent: ({ "output-factors": fields }) => brighten(rowsOf(fields, "30x30"), 0.97),
  },
  "output-factor-falls-steeply": {
    fires: ({ "output-factors": fields }) => brighten(rowsOf(fields, "5x5"), 0.3),
    silent: ({ "output-factors": fields }) => brighten(rowsOf(fields, "5x5"), 0.5),
  },
  "volume-correction-unlikely": {
    fires: ({ "output-factors": fields }) => put(rowsOf(fields, "30x30"), "k_volume", 1.03),
    silent: ({ "output-factors": fields }) => put(rowsOf(fields, "5x5"), "k_volume", 1.015),
  },
  "reference-not-as-separated": {
    fires: ({ "output-factors": fields }) => brighten(fields, 0.96),
    silent: ({ separation, "output-factors": fields }) => {
      put(separation, "dose_group", "another"); // nobody says that it is the same field
      brighten(fields, 0.96);
    },
  },
  "assumption-default": {
    fires: (_, descriptor) => {
      delete (descriptor.alcedo.assumptions as { positioning_u_mm?: number }).positioning_u_mm;
    },
    silent: unchanged,
  },

  // what stops a stage
  "channel-not-positive": {
    fires: ({ calibration }) => put(calibration, "signal_green", 0),
    silent: unchanged,
  },
  "signal-not-positive": {
    fires: ({ separation, calibration, "output-factors": fields }) => swap([...separation, ...calibration, ...fields]),
    silent: unchanged,
  },
  "stem-ratio-not-positive": {
    fires: ({ separation }) => scale(rowsOf(separation, "long"), "signal_green", 0.1),
    silent: ({ separation }) => scale(rowsOf(separation, "long"), "signal_green", 0.95),
  },
  "separation-missing": {
    fires: (tables) => {
      delete (tables as MadeUpTables).separation;
    },
    silent: unchanged,
  },
  "separation-indeterminate": {
    fires: ({ separation }) => put(rowsOf(separation, "long"), "role", "verify"),
    silent: unchanged,
  },
  "verification-without-dose": {
    fires: ({ separation }) => put(rowsOf(separation, "half"), "dose_group", "another"),
    silent: ({ separation }) => {
      put(separation, "dose_Gy", 1);
      put(rowsOf(separation, "half"), "dose_group", "another");
    },
  },
  "reference-missing": {
    fires: ({ "output-factors": fields }) => put(rowsOf(fields, "100x100"), "role", "field"),
    silent: unchanged,
  },
  "characterisation-of-another": {
    fires: onAnotherDay((own) => Object.assign(own.identity, { fibre: "F-0001", flatteningFilter: true })),
    silent: onAnotherDay(),
  },
  "characterisation-identity-open": {
    fires: onAnotherDay((own) => Object.assign(own.identity, { reader: "R-2" })),
    silent: onAnotherDay((own, { alcedo }) => {
      Object.assign(own.identity, { reader: "R-2" });
      Object.assign(alcedo.detector, { reader: "R-2" });
    }),
  },
  "characterisation-stale": {
    fires: onAnotherDay((own) => Object.assign(own, { date: "2025-03-11" })),
    silent: onAnotherDay((own) => Object.assign(own, { date: "2025-03-12" })),
  },
  "characterisation-age-doubtful": {
    fires: onAnotherDay((own) => Object.assign(own, { date: "2026-03-13" })),
    silent: onAnotherDay(),
  },
  "monitor-not-usable": {
    fires: ({ "output-factors": fields }) => put(fields.slice(4, 5), "monitor", 0),
    silent: ({ "output-factors": fields }) => scale(fields, "monitor", -1), // the other polarity, throughout
  },
};

const findingsOf = (change: Change): readonly Finding[] => evaluate(madeUpCampaign(change)).result.findings;
/** A finding with its facts to four digits: its words are reviewed here, not the last bits behind them. */
const rounded = ({ facts, ...finding }: Finding) => ({
  ...finding,
  ...(facts && {
    facts: Object.fromEntries(
      Object.entries(facts).map(([name, fact]) => [
        name,
        typeof fact === "number" ? Number(fact.toPrecision(4)) : fact,
      ]),
    ),
  }),
});

const codesOf = (findings: readonly Finding[]) => findings.map(({ code }) => code);

describe.each(Object.entries(FIXTURES))("the finding %s", (code, { fires, silent }) => {
  it("speaks where it should, with a message, an effect or a remedy, and a place", () => {
    const found = findingsOf(fires).filter((finding) => finding.code === code);
    expect(found.length).toBeGreaterThan(0);
    for (const finding of found) {
      expect(finding.message).toMatch(/\.$/);
      expect(`${finding.effect ?? ""}${finding.remedy ?? ""}${finding.level === "notice" ? "." : ""}`).toMatch(/\.$/);
      expect(JSON.stringify(finding)).not.toMatch(/NaN|Infinity|undefined|null/);
    }
    expect(found.map(rounded)).toMatchSnapshot();
  });

  it("is silent where it should be", () => {
    expect(codesOf(findingsOf(silent))).not.toContain(code);
  });
});

describe("the findings", () => {
  it("have each a fixture: those of the rules and those that stop a stage", () => {
    const folder = new URL("./", import.meta.url);
    const written = readdirSync(folder)
      .filter((file) => file.endsWith(".ts") && !file.endsWith(".test.ts"))
      .flatMap((file) => [...readFileSync(new URL(file, folder), "utf8").matchAll(/\bcode: "([a-z-]+)"/g)])
      .map(([, code]) => code!);
    expect(Object.keys(FIXTURES).sort()).toEqual([...new Set(written)].sort());
    expect(written).toEqual(expect.arrayContaining(RULES.map(({ code }) => code)));
    expect(new Set(RULES.map(({ code }) => code)).size).toBe(RULES.length);
  });

  it("come with the code and, at most, the level of their rule", () => {
    const grave = ["notice", "warning", "error"];
    for (const rule of RULES)
      for (const finding of findingsOf(FIXTURES[rule.code]!.fires).filter(({ code }) => code === rule.code))
        expect(grave.indexOf(finding.level)).toBeLessThanOrEqual(grave.indexOf(rule.level));
  });

  it("of the made-up campaign, which is sound, are none", () => {
    expect(codesOf(findingsOf(unchanged))).toEqual([]);
  });

  it("of the demonstration campaign hold no warning and no error", () => {
    const { findings, standing } = evaluate(demonstration()).result;
    expect(findings.filter(({ level }) => level !== "notice")).toEqual([]);
    expect(standing).toBe("sound");
  });

  it("say where a threshold comes from", () => {
    for (const { threshold } of RULES)
      if (threshold) {
        expect(threshold.source.length).toBeGreaterThan(5);
        expect(threshold.value).toBeGreaterThan(0);
      }
    for (const { sees } of RULES) expect(sees.length).toBeGreaterThan(5);
  });

  it("of volume averaging in a table warn where a field states its k_volume as well", () => {
    const found = findingsOf((tables) => {
      corrections(tables, [5, 10, 100], { volume_averaging: "included" });
      put(rowsOf(tables["output-factors"], "5x5"), "k_volume", 1.01);
    }).find(({ code }) => code === "volume-averaging-in-table")!;
    expect(found).toMatchObject({ level: "warning" });
    expect(found.message).toContain("the k_volume of 5x5 is not used");
  });

  it("of a tip of unknown size speak of positioning alone where the table holds volume averaging", () => {
    const message = (volume_averaging: string) =>
      findingsOf((tables, { alcedo }) => {
        corrections(tables, [5, 10, 100], { volume_averaging });
        delete alcedo.detector.activeVolume;
      }).find(({ code }) => code === "corrections-not-computed")!.message;
    expect(message("apart")).toContain("volume averaging (");
    expect(message("included")).not.toContain("volume averaging");
    expect(message("included")).toContain("positioning is not computed");
  });

  it("put a low contrast as a notice down to 1.5 and as a warning below", () => {
    const contrast = (fibre: "half" | "turned") =>
      findingsOf((tables) => {
        put(rowsOf(tables.separation, fibre), "role", "fit");
        tables.separation = tables.separation.filter(({ condition }) => condition === "long" || condition === fibre);
      }).find(({ code }) => code === "contrast-low")!;
    expect(contrast("half")).toMatchObject({ level: "notice" }); // 17.5 over 9.5
    expect(contrast("turned")).toMatchObject({ level: "warning" }); // 25.5 over 17.5
    expect(contrast("turned").facts!["contrast"]).toBeCloseTo(25.5 / 17.5, 2);
  });

  it("of a temperature compare series with each other: of two rooms nobody knows which is right", () => {
    const speaks = (degrees: number) =>
      findingsOf(({ "output-factors": fields }) => put(fields, "temperature_C", degrees)).find(
        ({ code }) => code === "temperature-does-not-fit",
      );
    expect(speaks(25)).toBeUndefined();
    expect(speaks(27)!.message).toMatch(/at 27.0 °C, where those of the other series are at 22.0 °C|at 22.0 °C/);
  });

  it("call a drift that the visits follow a notice, and a step from one visit to the next a warning", () => {
    const drifted = (moves: readonly number[]) =>
      findingsOf((tables) => {
        const fields = tables["output-factors"];
        const middle = rowsOf(fields, "100x100").slice(0, 3);
        const at = fields.findIndex(({ condition }) => condition === "5x5");
        const between = middle.map((row, i) => ({
          ...row,
          reading: `middle-${i}`,
          time: String(fields[at - 1]!["time"]).replace(/\d\d\+/, `${50 + i}+`),
        }));
        fields.splice(at, 0, ...between);
        brighten(between, moves[0]!);
        brighten(fields.slice(-3), moves[1]!);
      }).find(({ code }) => code === "reference-drift");
    expect(drifted([1.004, 1.008])).toMatchObject({ level: "notice" });
    expect(drifted([1, 1.008])).toMatchObject({ level: "warning" });
    expect(drifted([1.001, 1.002])).toBeUndefined();
  });
});
