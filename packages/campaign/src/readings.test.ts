import { describe, expect, test } from "vitest";
import type { Campaign } from "./campaign.ts";
import { interpret } from "./readings.ts";
import { SAMPLE_TABLES, sampleCampaign, sampleDescriptor, sampleTable } from "./testing/sample-campaign.ts";

const codes = (campaign: Campaign) => interpret(campaign).findings.map((finding) => finding.code);

describe("a sound campaign", () => {
  const { channels, series, findings } = interpret(sampleCampaign());

  test("gives no finding but the notice about the excluded reading that cannot be read", () => {
    expect(findings.map(({ level, code, where }) => [level, code, where?.reading])).toEqual([
      ["notice", "excluded-unreadable", "s4"],
    ]);
  });

  test("gives typed readings with the worth of the last digit of each channel", () => {
    expect(channels).toEqual(["blue", "green"]);
    expect(series.separation?.readings[1]).toEqual({
      id: "s2",
      row: 2,
      line: 3,
      condition: "little",
      duration_s: 20,
      mu: 100,
      signals: [6.51, 3.5],
      digits: [0.01, 0.01],
      note: "first after lunch",
      doseGroup: "a",
      role: "fit",
      dose_Gy: 1,
    });
    expect(series.separation?.readings[0]?.digits).toEqual([0.001, 0.001]);
  });

  test("keeps a reading that is left out apart, with what of it can be read", () => {
    expect(series.separation?.readings.map((reading) => reading.id)).toEqual(["s1", "s2", "s3", "s5"]);
    expect(series.separation?.excluded).toEqual([
      {
        id: "s4",
        row: 4,
        line: 5,
        condition: "much",
        exclude: "range exceeded",
        duration_s: 20,
        mu: 100,
        doseGroup: "a",
        signals: [undefined, undefined],
      },
    ]);
  });

  test("gives times in seconds since 1970, UTC", () => {
    // date -u -d 2026-03-14T08:00:00Z +%s (GNU coreutils, C)
    expect(series.background?.readings.map((reading) => reading.time)).toEqual([1773475200, 1773475320]);
  });

  test("leaves a temperature that was not taken absent", () => {
    const [first, second] = series.calibration!.readings;
    expect(first).toMatchObject({ temperature_C: 21.8, dose_Gy: 1, dose_u_percent: 0.7 });
    expect(second).not.toHaveProperty("temperature_C");
  });

  test("gives the description of each field", () => {
    const [reference, cone] = series["output-factors"]!.readings;
    expect(reference).toMatchObject({
      role: "reference",
      shape: "rectangle",
      x_mm: 100,
      fwhm_y_mm: 100.1,
      monitor: 10.01,
    });
    expect(reference).not.toHaveProperty("diameter_mm");
    expect(cone).toMatchObject({
      role: "field",
      shape: "circle",
      diameter_mm: 5,
      sigma_mm: 1.4,
      sigma_u_mm: 0.1,
      offset_x_mm: -0.05,
      offset_y_mm: 0.1,
      k_volume: 1.01,
      k_volume_u: 0.002,
    });
  });
});

test("the signals follow the order of the descriptor's channels, not that of the columns", () => {
  const text = "signal_green,reading,condition,signal_blue,dose_Gy,dose_u_percent\n3.5,c1,ref,6.5,1,0.7";
  const campaign = sampleCampaign({ background: null, calibration: text });
  expect(interpret(campaign).series.calibration?.readings[0]?.signals).toEqual([6.5, 3.5]);
});

test("a table with decimal commas is read with decimal commas", () => {
  const text = "reading;condition;signal_blue;signal_green;dose_Gy;dose_u_percent\nc1;ref;6,50;3,5e-1;1,0;0,7";
  const campaign = sampleCampaign({ background: null });
  const tables = { ...campaign.tables, calibration: sampleTable("calibration.csv", text, ";", ",") };
  const reading = interpret({ ...campaign, tables }).series.calibration!.readings[0]!;
  expect(reading).toMatchObject({ signals: [6.5, 0.35], digits: [0.01, 0.01], dose_Gy: 1, dose_u_percent: 0.7 });
});

test("a table without time, monitor units and monitor is fine", () => {
  const text = "reading,condition,signal_blue,signal_green,dose_group,role\ns1,min,6.5,3.5,a,fit";
  expect(codes(sampleCampaign({ background: null, separation: text }))).toEqual([]);
});

test("with the beam off, no monitor units and a negative monitor reading are possible", () => {
  const text = "reading,condition,duration_s,mu,monitor,signal_blue,signal_green\nb1,dark,60,0,-0.01,-0.002,0";
  const { findings, series } = interpret(sampleCampaign({ background: text }));
  expect(findings.map((finding) => finding.code)).toEqual(["excluded-unreadable"]);
  expect(series.background?.readings[0]).toMatchObject({ mu: 0, monitor: -0.01, signals: [-0.002, 0] });
});

test("an integration time is asked for only where there is a background series", () => {
  const text = SAMPLE_TABLES.calibration.replace(/duration_s,/, "").replace(/,20,/g, ",");
  expect(codes(sampleCampaign({ calibration: text }))).toContain("column-missing");
  expect(codes(sampleCampaign({ calibration: text, background: null }))).not.toContain("column-missing");
});

test("a reference set is for conditions or for equivalent squares", () => {
  const text = "condition,equivalent_square_mm,output_factor,u_percent,source\ncone-5,,0.6,1,plan\n,4.4,0.61,1,plan";
  const { series, findings } = interpret(sampleCampaign({ "reference-set": text }));
  expect(findings.map((finding) => finding.code)).toEqual(["excluded-unreadable"]);
  expect(series["reference-set"]?.values).toEqual([
    { row: 1, line: 2, condition: "cone-5", output_factor: 0.6, u_percent: 1, source: "plan" },
    { row: 2, line: 3, equivalent_square_mm: 4.4, output_factor: 0.61, u_percent: 1, source: "plan" },
  ]);
});

test("names of conditions are fitted, with one notice for each text", () => {
  const text = SAMPLE_TABLES.calibration.replace(/ref/g, "10 × 10 CM");
  const { series, findings } = interpret(sampleCampaign({ calibration: text }));
  expect(series.calibration?.readings.map((reading) => reading.condition)).toEqual(["10x10-cm", "10x10-cm"]);
  const renamed = findings.filter((finding) => finding.code === "name-renamed");
  expect(renamed).toHaveLength(1);
  expect(renamed[0]?.message).toBe(
    'calibration.csv, row 1 (line 2), column condition: the condition "10 × 10 CM" is called 10x10-cm in results.',
  );
});

test("a channel's name is fitted alike in the descriptor and in the column", () => {
  const campaign = sampleCampaign({
    background: null,
    calibration: "reading,condition,signal_Blue,signal_green,dose_Gy,dose_u_percent\nc1,ref,6.5,3.5,1,0.7",
    separation: null,
    "output-factors": null,
  });
  campaign.descriptor.alcedo.detector.channels = ["Blue", "green"];
  const { channels, series, findings } = interpret(campaign);
  expect(findings).toEqual([]);
  expect(channels).toEqual(["blue", "green"]);
  expect(series.calibration?.readings[0]?.signals).toEqual([6.5, 3.5]);
});

test("every fault of a table is found in one go, each with its row, line and column", () => {
  const text = `reading,condition,duration_s,signal_blue,signal_green,dose_Gy,dose_u_percent
c1,ref,20,6.5 nC,3.5,1,0.7
c2,ref,0,6.5,NaN,1,0.7
c2,ref,20,6.5,,1,70`;
  const { findings, series } = interpret(sampleCampaign({ calibration: text }));
  const errors = findings.filter((finding) => finding.level === "error");
  expect(errors.map(({ code, where }) => [code, where?.row, where?.line, where?.column, where?.reading])).toEqual([
    ["number-malformed", 1, 2, "signal_blue", "c1"],
    ["number-range", 2, 3, "duration_s", "c2"],
    ["number-not-finite", 2, 3, "signal_green", "c2"],
    ["cell-missing", 3, 4, "signal_green", "c2"],
    ["number-range", 3, 4, "dose_u_percent", "c2"],
    ["reading-duplicate", 3, 4, "reading", "c2"],
  ]);
  expect(errors[0]?.message).toBe(
    'calibration.csv, row 1 (line 2), column signal_blue: "6.5 nC" has letters after the digits.',
  );
  expect(errors[5]?.message).toContain("already in row 2 (line 3)");
  expect(series.calibration?.readings).toEqual([]);
});

test("a reading with a fault in an optional cell is not given without that cell", () => {
  const text = SAMPLE_TABLES.calibration.replace("21.8", "warm");
  expect(interpret(sampleCampaign({ calibration: text })).series.calibration?.readings.map(({ id }) => id)).toEqual([
    "c2",
  ]);
});

test("a table that is wrong from top to bottom lists fifty errors and counts the others", () => {
  const rows = Array.from({ length: 200 }, (_, i) => `c${i},ref,20,x,3.5,1,0.7`);
  const text = `reading,condition,duration_s,signal_blue,signal_green,dose_Gy,dose_u_percent\n${rows.join("\n")}`;
  const { findings } = interpret(sampleCampaign({ calibration: text }));
  const errors = findings.filter((finding) => finding.level === "error");
  expect(errors).toHaveLength(51);
  expect(errors.at(-1)).toMatchObject({ code: "more-errors", facts: { more: 150 } });
});

test("cells of hostile text are shown shortened and without control characters", () => {
  const text = SAMPLE_TABLES.calibration.replace("6.500", `\u001b[31m${"9".repeat(500)}\u202e`);
  const [error] = interpret(sampleCampaign({ calibration: text })).findings.filter(({ level }) => level === "error");
  expect(error?.message).toMatch(/"\\u\{1b\}\[31m9+…" is not a number/);
  expect(error?.message.length).toBeLessThan(150);
});

test("a hundred thousand readings are typed in reasonable time, and more are refused", () => {
  const row = "ref,20,6.500,3.500,1.000,0.7";
  const header = "reading,condition,duration_s,signal_blue,signal_green,dose_Gy,dose_u_percent";
  const table = (count: number) => `${header}\n${Array.from({ length: count }, (_, i) => `c${i},${row}`).join("\n")}`;
  const campaign = sampleCampaign({ calibration: table(100_000) });
  expect(interpret(campaign).series.calibration?.readings).toHaveLength(100_000);
  expect(codes(sampleCampaign({ calibration: table(100_001) }))).toContain("table-too-long");
});

test("resources called like properties of every object are no traps", () => {
  const descriptor = sampleDescriptor();
  descriptor.resources = [{ name: "constructor", path: "a.csv", alcedo: { series: "background" } }];
  expect(codes({ descriptor, tables: {} })).toEqual(["table-absent"]);
});

test("a campaign whose descriptor was never read is refused by its reader, as a mistake in the program", () => {
  const descriptor = sampleDescriptor();
  descriptor.alcedo.detector.channels = ["blue", "BLUE"];
  expect(() => interpret({ descriptor, tables: {} })).toThrow("valid descriptor");
});
