import { digest, type Finding, interpret } from "@alcedo-dosimetry/campaign";
import type { WrittenCell } from "@alcedo-dosimetry/tabular/workbook";
import fc from "fast-check";
import { zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { calibration, keys, readSample, SAMPLE_SHEETS, sampleWorkbook } from "../testing/sample-workbook.ts";
import { readCampaignWorkbook } from "./read-campaign-workbook.ts";

const HEADER = SAMPLE_SHEETS["calibration"]![0]!;
const ROW = SAMPLE_SHEETS["calibration"]![1]!;
const brief = (findings: readonly Finding[]) =>
  findings.map(({ code, where }) => [code, where?.sheet, where?.line, where?.column]);
const table = (...change: Parameters<typeof readSample>) => readSample(...change).campaign!.tables["calibration"]!;
const column = (head: WrittenCell, value: WrittenCell) => {
  const { campaign, findings } = readSample(
    calibration([...HEADER.slice(0, 4), head, "dose_u_percent"], [...ROW.slice(0, 4), value, 0.7]),
  );
  const read = campaign?.tables["calibration"];
  const all = campaign === undefined ? findings : [...findings, ...interpret(campaign).findings];
  return { name: read?.columns[4], text: read?.rows[0]?.[4], codes: all.map(({ code }) => code), findings };
};

test("a sound workbook gives its campaign, cells as they stand, places as the spreadsheet counts", () => {
  const { campaign, findings } = readSample();
  expect(findings).toEqual([]);
  expect(campaign!.descriptor).toEqual({
    name: "invented-cones",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon", energy_MV: 6, depth_mm: 100 },
    },
    resources: [
      { name: "separation", path: "separation.csv", alcedo: { series: "separation" } },
      { name: "calibration", path: "calibration.csv", alcedo: { series: "calibration" } },
    ],
  });
  expect(campaign!.tables["separation"]).toEqual({
    path: "separation.csv",
    sheet: "separation",
    decimal: ".",
    columns: ["reading", "condition", "signal_blue", "signal_green", "dose_group", "role", "note"],
    rows: [
      ["s1", "min", "6.5", "3.5", "a", "fit", ""],
      ["s2", "max", "17.25", "17.5", "a", "fit", "second loop"],
      ["s3", "mid", "11.125", "9.5", "a", "verify", ""],
    ],
    lines: [2, 3, 4],
  });
  expect(interpret(campaign!).findings).toEqual([]);
});

describe("headers", () => {
  test("may be in any order", () => {
    const reversed = SAMPLE_SHEETS["calibration"]!.map((row) => [...row].reverse());
    expect(digest(readSample({ calibration: reversed }).campaign!)).toBe(digest(readSample().campaign!));
  });

  test.each([
    ["dose_Gy", 1.5, "dose_Gy", "1.5"],
    ["dose (cGy)", 650, "dose_Gy", "6.50"],
    ["dose / mGy", 650, "dose_Gy", "0.650"],
    ["Dose [cGy]", 0.1, "dose_Gy", "0.001"],
    ["dose_cGy", 100, "dose_Gy", "1.00"],
    ["DOSE in Gy", 2, "dose_Gy", "2"],
    ["dose cGy", "650", "dose_Gy", "6.50"],
  ])("%s with %s are read as %s %s: the point is moved, nothing is computed in binary", (head, value, name, text) => {
    expect(column(head, value)).toMatchObject({ name, text });
  });

  test("of signals take the unit of any prefix, the channel's name alone too", () => {
    const rows = (first: string, second: string) =>
      readSample(
        calibration(
          ["reading", "condition", first, second, "dose_Gy", "dose_u_percent"],
          ["c1", "ref", 6500, 0.0000000035, 1, 0.7],
        ),
      );
    const { campaign, findings } = rows("signal blue (pC)", "green [C]");
    expect(campaign!.tables["calibration"]!.columns.slice(2, 4)).toEqual(["signal_blue", "signal_green"]);
    expect(campaign!.tables["calibration"]!.rows[0]!.slice(2, 4)).toEqual(["6.500", "3.5"]);
    expect(findings.map(({ code, facts }) => [code, facts])).toEqual([
      ["unit-converted", { unit: "pC", wanted: "nC", factor: "1e-3" }],
      ["unit-converted", { unit: "C", wanted: "nC", factor: "1e9" }],
    ]);
    expect(rows("signal blue (µA)", "green").findings.map(({ code }) => code)).toContain("unit-unsupported");
  });

  test("every conversion is a notice with sheet, column and factor", () => {
    const { findings } = column("dose (cGy)", 650);
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      level: "notice",
      code: "unit-converted",
      where: { sheet: "calibration", series: "calibration", line: 1, column: "dose_Gy" },
      facts: { unit: "cGy", wanted: "Gy", factor: "1e-2" },
    });
  });

  test.each([
    ["dose (rad)", "unit-unsupported"],
    ["dose", "unit-missing"],
    ["dose (mm)", "unit-unsupported"],
    ["dosis_Gy", "column-misspelt"],
  ])("%s is refused: %s", (head, code) => expect(column(head, 1).codes).toContain(code));

  test("°F and K are refused with what to do", () => {
    const remedies = ["temperature (°F)", "temperature_F", "temperature / K", "temp (F)"].map((head) => {
      const { findings } = readSample(calibration([...HEADER, head], [...ROW, 72]));
      return findings.find(({ code }) => code === "unit-unsupported")?.remedy;
    });
    expect(remedies[0]).toContain("(°F − 32) · 5/9");
    expect(remedies[2]).toContain("Subtract 273.15");
    expect(remedies.every((remedy) => remedy !== undefined)).toBe(true);
  });

  test("that mean one column are both named", () => {
    const { campaign } = readSample(calibration([...HEADER, "dose (cGy)"], [...ROW, 100]));
    expect(brief(interpret(campaign!).findings)).toContainEqual([
      "column-duplicate",
      "calibration",
      undefined,
      "dose_Gy",
    ]);
  });

  test("that are unknown are kept, and the nearest known name is given", () => {
    const { findings } = readSample(calibration([...HEADER, "colour"], [...ROW, "red"]));
    expect(findings).toEqual([]);
    expect(table(calibration([...HEADER, "colour"], [...ROW, "red"])).columns.at(-1)).toBe("colour");
    const doubtful = readSample(calibration([...HEADER, "temperature_X"], [...ROW, 22])).campaign!;
    expect(interpret(doubtful).findings[0]!.message).toMatch(
      /^sheet calibration: the column "temperature_X" is unknown/,
    );
  });
});

describe("cells", () => {
  test("of numbers are the shortest text, with the zeros that their format shows", () => {
    expect(column("dose_Gy", 0.1 + 0.2).text).toBe("0.30000000000000004");
    expect(column("dose_Gy", { value: 6.5, style: { format: "0.000" } }).text).toBe("6.500");
    expect(column("dose_Gy", { value: 6.51234, style: { format: "0.0" } }).text).toBe("6.51234");
    expect(column("dose_Gy", { value: 6.5, style: { format: "0.00%" } }).text).toBe("6.5000");
    expect(column("dose (cGy)", { value: 650, style: { format: "0.0" } }).text).toBe("6.500");
  });

  test("of a percentage in a column of per cent are what is seen", () => {
    const read = table(calibration(HEADER, [...ROW.slice(0, 5), { value: 0.007, style: { format: "0.0%" } }]));
    expect(read.rows[0]![5]).toBe("0.7");
  });

  test("typed as text keep it; with a decimal comma where no number stands beside them, and not otherwise", () => {
    const comma = calibration(HEADER, ["c1", "ref", "6,51", "3,5", 1, "0,7"]);
    expect(table(comma)).toMatchObject({ decimal: ",", rows: [["c1", "ref", "6,51", "3,5", "1", "0,7"]] });
    const beside = readSample(calibration(HEADER, ["c1", "ref", "6,51", 3.5, 1, 0.7]));
    expect(interpret(beside.campaign!).findings.map(({ code }) => code)).toEqual(["number-malformed"]);
    const mixed = readSample(calibration(HEADER, ["c1", "ref", "6,51", "3.5", 1, 1]));
    expect(brief(mixed.findings)).toEqual([["decimal-mixed", "calibration", 2, "signal_blue"]]);
    const unclear = readSample(calibration(HEADER, ["c1", "ref", "6,510", "3,500", 1, 1]));
    expect(brief(unclear.findings)).toEqual([["decimal-ambiguous", "calibration", 2, "signal_blue"]]);
  });

  test("that are dates become times only where the header has an offset", () => {
    const date = { value: 45000.5, style: { format: "yyyy-mm-dd hh:mm" } };
    const time = (head: string) => readSample(calibration([...HEADER, head], [...ROW, date]));
    expect(time("time (+01:00)").campaign!.tables["calibration"]!.rows[0]!.at(-1)).toBe("2023-03-15T12:00:00+01:00");
    expect(time("Time (UTC-5)").campaign!.tables["calibration"]!.rows[0]!.at(-1)).toBe("2023-03-15T12:00:00-05:00");
    expect(time("time [UTC]").campaign!.tables["calibration"]!.rows[0]!.at(-1)).toBe("2023-03-15T12:00:00Z");
    expect(brief(time("time").findings)).toEqual([["time-without-offset", "calibration", 2, "time"]]);
    const hour = { value: 0.75, style: { format: "hh:mm" } };
    expect(brief(readSample(calibration([...HEADER, "time (Z)"], [...ROW, hour])).findings)).toEqual([
      ["cell-date", "calibration", 2, "time"],
    ]);
  });

  test("with formulas and blank rows between are counted once each, with the first place", () => {
    const formula = { value: 1, formula: "2-1" };
    const { findings } = readSample(
      calibration(HEADER, [...ROW.slice(0, 4), formula, 0.7], [], [], ["c2", ...ROW.slice(1, 4), formula, 0.7]),
    );
    expect(findings.map(({ code, where, facts }) => [code, where?.line, facts])).toEqual([
      ["row-blank", 3, { blank: 2 }],
      ["formula-value", 2, { cells: 2, first: "E2" }],
    ]);
  });
});

describe("faults of the tables", () => {
  test("are told with sheet and row as the spreadsheet counts, those of the form and of the content in one go", () => {
    const { findings } = readSample({
      ...calibration(["A title"], HEADER, ["c1", "ref", "x", 3.5, 1, 0.7], ["c1", "ref", 6.5, 3.5, null, 0.7]),
      separation: [["reading", "dose (rad)"]],
    });
    expect(findings.filter(({ level }) => level === "error").map(({ message }) => message)).toEqual([
      'sheet separation, column dose_Gy: the header "dose (rad)" is in rad, which is not converted to Gy.',
      'sheet calibration, row 3, column signal_blue: "x" is not a number.',
      "sheet calibration, row 4, column dose_Gy: the cell is empty; it is needed.",
      'sheet calibration, row 4, column reading: the reading "c1" is already in row 3.',
    ]);
  });
});

describe("the sheet campaign", () => {
  test("gives every fault with its row, in the words of the sheet", () => {
    const { findings } = readSample(
      keys(["beam.modality", "foton"], ["beam.ssd_cm", 90], ["detector.channels", "blue"], ["beam.energy_MV", "six"]),
    );
    expect(
      findings.map(({ code, message, where }) => [code, where?.sheet, where?.line, message.split(": ")[0]]),
    ).toEqual([
      ["value-form", "campaign", 10, "sheet campaign, row 10"],
      ["value-choice", "campaign", 8, "sheet campaign, row 8"],
      ["value-type", "campaign", 11, "sheet campaign, row 11"],
      ["key-unknown", "campaign", 9, "sheet campaign, row 9"],
      ["channel-unknown", "separation", undefined, "sheet separation"],
      ["channel-unknown", "calibration", undefined, "sheet calibration"],
    ]);
    expect(findings[1]!.message).toContain("beam.modality");
    expect(findings[1]!.message).not.toContain("alcedo.");
  });

  test("lacks a needed key", () => {
    const { findings } = readSample({ campaign: SAMPLE_SHEETS["campaign"]!.filter(([key]) => key !== "detector.id") });
    expect(findings.map(({ message }) => message)).toEqual([
      "sheet campaign: detector lacks the key id, which is needed.",
    ]);
  });

  test("converts a unit beside a key, exactly, and refuses others", () => {
    const { campaign, findings } = readSample(keys(["beam.depth_mm", 10.1, "cm"], ["beam.ssd_mm", 0.9, "m"]));
    expect(campaign!.descriptor.alcedo.beam).toMatchObject({ depth_mm: 101, ssd_mm: 900 });
    expect(findings.map(({ code, message }) => [code, message])).toEqual([
      ["unit-converted", "sheet campaign, row 10: beam.depth_mm is in cm: 10.1 cm are 101 mm."],
      ["unit-converted", "sheet campaign, row 11: beam.ssd_mm is in m: 0.9 m are 900 mm."],
    ]);
    expect(readSample(keys(["beam.depth_mm", 4, "inch"])).findings.map(({ code }) => code)).toEqual([
      "unit-unsupported",
    ]);
  });

  test("takes texts for numbers and words for TRUE with a notice, JSON for lists of objects", () => {
    const { campaign, findings } = readSample(
      keys(
        ["beam.depth_mm", "100.0"],
        ["beam.flatteningFilter", "true"],
        ["contributors", '[{"title":"A. Physicist"}]'],
        ["keywords", "invented, cones"],
      ),
    );
    expect(campaign!.descriptor).toMatchObject({
      keywords: ["invented", "cones"],
      contributors: [{ title: "A. Physicist" }],
      alcedo: { beam: { depth_mm: 100, flatteningFilter: true } },
    });
    expect(findings.map(({ code }) => code)).toEqual(["value-converted", "value-converted"]);
    expect(readSample(keys(["contributors", "A. Physicist"])).findings.map(({ code }) => code)).toEqual(["value-type"]);
  });

  test("holds nothing that could become a property of every object", () => {
    const { findings } = readSample(keys(["__proto__.polluted", 1], ["constructor.prototype.x", 1]));
    expect(findings.map(({ code }) => code)).toContain("key-unknown");
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
  });

  test("may name a series' sheet, and give its table properties", () => {
    const { campaign, findings } = readSample({
      ...keys(["series.calibration.name", "my-chamber"], ["series.calibration.title", "At 10 cm"]),
      calibration: undefined,
      "My chamber": SAMPLE_SHEETS["calibration"],
    });
    expect(findings).toEqual([]);
    expect(campaign!.descriptor.resources[1]).toEqual({
      name: "my-chamber",
      path: "my-chamber.csv",
      title: "At 10 cm",
      alcedo: { series: "calibration" },
    });
    expect(readSample(keys(["series.calibraton.title", "x"])).findings.map(({ code }) => code)).toEqual([
      "key-unknown",
    ]);
  });
});

test("a sheet of output corrections is a table like the others: headers in other words, sizes in another unit", () => {
  const { campaign, findings } = readSample({
    "Output Corrections": [
      ["equivalent square (cm)", "output correction factor", "u (%)", "source"],
      [0.5, 1.02, 0.8, "invented"],
      [10, 1, 0, "invented"],
    ],
  });
  expect(findings.filter(({ level }) => level !== "notice")).toEqual([]);
  expect(campaign!.descriptor.resources.at(-1)!.alcedo).toEqual({ series: "output-corrections" });
  const { values } = interpret(campaign!).series["output-corrections"]!;
  expect(values.map((row) => [row.equivalent_square_mm, row.output_correction, row.u_percent])).toEqual([
    [5, 1.02, 0.8],
    [100, 1, 0],
  ]);
});

test("two sheets of one series are refused", () => {
  const { findings } = readSample({ " CALIBRATION ": SAMPLE_SHEETS["calibration"] });
  expect(brief(findings)).toEqual([["series-duplicate", " CALIBRATION ", undefined, undefined]]);
});

test("a sheet of a hundred thousand readings is read, one more is refused", () => {
  const rows = (count: number) => Array.from({ length: count }, (_, i) => [`c${i}`]);
  const codes = (count: number) =>
    readSample({ calibration: [["reading", "condition"], ...rows(count)] }).findings.map(({ code }) => code);
  expect(codes(100_030)).toContain("table-too-long");
}, 60_000);

test("whatever the bytes of a workbook, reading ends with a campaign or a finding", () => {
  const bytes = sampleWorkbook();
  const anything = fc.oneof(
    fc.uint8Array({ maxLength: 200 }),
    fc.tuple(fc.nat(bytes.length - 1), fc.nat(255)).map(([at, byte]) => bytes.map((own, i) => (i === at ? byte : own))),
    fc
      .dictionary(fc.constantFrom("_rels/.rels", "xl/workbook.xml", "mimetype"), fc.uint8Array({ maxLength: 50 }))
      .map((parts) => zipSync(parts)),
  );
  fc.assert(
    fc.property(anything, (content) => {
      const { campaign, findings } = readCampaignWorkbook(content, "any.xlsx");
      expect(campaign !== undefined || findings.length > 0).toBe(true);
    }),
    { numRuns: 300 },
  );
});
