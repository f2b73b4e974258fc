import { describe, expect, test } from "vitest";
import { interpret } from "./readings.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const HEAD = "reading,condition,signal_blue,signal_green";

/** Code, row and column of each error of one table; background taken out, so that no integration times are needed. */
function errors(series: string, header: string, ...rows: string[]) {
  const text = [header, ...rows].join("\n");
  const campaign = sampleCampaign({
    background: null,
    separation: null,
    calibration: null,
    "output-factors": null,
    [series]: text,
  });
  const { findings } = interpret(campaign);
  return findings
    .filter(({ level }) => level === "error")
    .map(({ code, where, message }) => ({ at: `${code} ${where?.row ?? "-"} ${where?.column ?? "-"}`, message }));
}

const places = (series: string, header: string, ...rows: string[]) =>
  errors(series, header, ...rows).map(({ at }) => at);

describe("a column that all readings have or none", () => {
  const calibration = (column: string, ...cells: string[]) =>
    places(
      "calibration",
      `${HEAD},dose_Gy,dose_u_percent,${column}`,
      ...cells.map((cell, i) => `c${i},ref,6.5,3.5,1,1,${cell}`),
    );

  test.each(["mu", "monitor"])("%s is wrong when it is filled in part", (column) => {
    expect(calibration(column, "100", "", "100")).toEqual([`column-partial 2 ${column}`]);
    expect(calibration(column, "", "", "100")).toEqual([`column-partial 1 ${column}`]);
  });

  test.each(["mu", "monitor", "temperature_C", "duration_s"])("%s is fine when it is full or empty", (column) => {
    expect(calibration(column, "20", "20", "20")).toEqual([]);
    expect(calibration(column, "", "", "")).toEqual([]);
  });

  test("time is wrong when it is filled in part, since the order is unknown then", () => {
    expect(calibration("time", "2026-03-14T09:00Z", "")).toEqual(["column-partial 2 time"]);
  });

  test("a temperature may be missing here and there", () => {
    expect(calibration("temperature_C", "22", "", "22.5")).toEqual([]);
  });

  test("a cell that cannot be read has its own error and counts as filled", () => {
    expect(calibration("mu", "100", "1OO", "100")).toEqual(["number-malformed 2 mu"]);
  });

  test("says how many readings lack it", () => {
    const header = `${HEAD},dose_Gy,dose_u_percent,mu`;
    const [error] = errors("calibration", header, "c1,ref,6.5,3.5,1,1,", "c2,ref,6.5,3.5,1,1,", "c3,ref,6.5,3.5,1,1,5");
    expect(error?.message).toBe(
      "calibration.csv, row 1 (line 2), column mu: the cell is empty, while 1 of 3 readings have mu; empty in all: 2.",
    );
  });

  test("excluded readings do not take part", () => {
    const header = `${HEAD},dose_Gy,dose_u_percent,mu,exclude`;
    expect(places("calibration", header, "c1,ref,6.5,3.5,1,1,100,", "c2,ref,6.5,3.5,1,1,,beam off")).toEqual([]);
  });

  test("with the beam off, monitor units say nothing and may be missing", () => {
    expect(places("background", `${HEAD},duration_s,mu`, "b1,dark,0,0,60,0", "b2,dark,0,0,60,")).toEqual([]);
  });
});

describe("rows of one condition", () => {
  const separation = (...rows: string[]) => places("separation", `${HEAD},dose_group,role,fibre_mm`, ...rows);

  test("describe it alike: dose group, role and length of fibre", () => {
    expect(
      separation(
        "s1,min,6.5,3.5,a,fit,50",
        "s2,min,6.5,3.5,b,verify,60",
        "s3,max,17,17.5,a,fit,400",
        "s4,max,17,17.5,a,fit,400.0",
      ),
    ).toEqual(["condition-disagrees 2 dose_group", "condition-disagrees 2 role", "condition-disagrees 2 fibre_mm"]);
  });

  test("are compared with the first of them, which is named", () => {
    const rows = ["s1,min,6.5,3.5,a,fit,50", "s2,min,6.5,3.5,a,fit,50", "s3,min,6.5,3.5,a,verify,50"];
    const [error] = errors("separation", `${HEAD},dose_group,role,fibre_mm`, ...rows);
    expect(error?.message).toBe(
      'separation.csv, row 3 (line 4), column role: "verify", but "fit" in row 1 (line 2) of the same condition "min".',
    );
  });

  test("disagree as well when one says nothing", () => {
    expect(separation("s1,min,6.5,3.5,a,fit,50", "s2,min,6.5,3.5,a,fit,")).toEqual(["condition-disagrees 2 fibre_mm"]);
  });

  test("may differ in what is no description: readings, doses, notes", () => {
    const header = `${HEAD},dose_group,role,dose_Gy,note`;
    expect(places("separation", header, "s1,min,6.5,3.5,a,fit,1,x", "s2,min,6.6,3.6,a,fit,1.01,y")).toEqual([]);
  });

  test("of the same condition in another table are another matter", () => {
    const campaign = sampleCampaign();
    expect(interpret(campaign).findings.filter(({ level }) => level === "error")).toEqual([]);
  });

  test("describe a field alike in every size", () => {
    const header = `${HEAD},role,shape,x_mm,y_mm,fwhm_x_mm,fwhm_y_mm,offset_x_mm,offset_y_mm,k_volume`;
    expect(
      places(
        "output-factors",
        header,
        "o1,ref,6.5,3.5,reference,rectangle,100,100,100,100,0,0,1",
        "o2,ref,6.5,3.5,field,rectangle,10,100,10,100,1,0,1.1",
      ),
    ).toEqual(
      ["role", "x_mm", "fwhm_x_mm", "offset_x_mm", "k_volume"].map((column) => `condition-disagrees 2 ${column}`),
    );
  });
});

describe("a dose group", () => {
  const separation = (...rows: string[]) => places("separation", `${HEAD},dose_group,role,dose_Gy,dose_u_Gy`, ...rows);

  test("has its dose in every row or in none", () => {
    expect(separation("s1,min,6.5,3.5,a,fit,1,", "s2,max,17,17.5,a,fit,,")).toEqual(["dose-partial 2 dose_Gy"]);
    expect(separation("s1,min,6.5,3.5,a,fit,,", "s2,max,17,17.5,a,fit,1,")).toEqual(["dose-partial 1 dose_Gy"]);
    expect(separation("s1,min,6.5,3.5,a,fit,1,", "s2,max,17,17.5,b,fit,,")).toEqual([]);
  });

  test("has one uncertainty of its dose", () => {
    expect(separation("s1,min,6.5,3.5,a,fit,1,0.01", "s2,max,17,17.5,a,fit,1,0.02")).toEqual([
      "group-disagrees 2 dose_u_Gy",
    ]);
    expect(separation("s1,min,6.5,3.5,a,fit,1,0.01", "s2,max,17,17.5,b,fit,1,0.02")).toEqual([]);
  });

  test("states no uncertainty without a dose", () => {
    expect(separation("s1,min,6.5,3.5,a,fit,,0.01", "s2,max,17,17.5,a,fit,,0.01")).toEqual([
      "pair-incomplete 1 dose_u_Gy",
      "pair-incomplete 2 dose_u_Gy",
    ]);
  });
});

describe("the sizes of a field", () => {
  const field = (columns: string, cells: string) =>
    places("output-factors", `${HEAD},role,shape,${columns}`, `o1,f,6.5,3.5,field,${cells}`);

  test.each([
    ["x_mm,y_mm", "rectangle,10,10", []],
    ["diameter_mm", "circle,5", []],
    ["x_mm,y_mm,diameter_mm", "circle,,,5", []],
    ["x_mm,y_mm", "rectangle,10,", ["shape-size 1 y_mm"]],
    ["x_mm,y_mm,diameter_mm", "rectangle,10,10,5", ["shape-size 1 diameter_mm"]],
    ["x_mm,y_mm,diameter_mm", "circle,10,10,5", ["shape-size 1 x_mm", "shape-size 1 y_mm"]],
    ["x_mm,y_mm,diameter_mm", "circle,,,", ["shape-size 1 diameter_mm"]],
    ["diameter_mm", "rectangle,", ["column-missing - x_mm", "column-missing - y_mm"]],
    ["x_mm,y_mm", "circle,,", ["column-missing - diameter_mm"]],
    ["x_mm,y_mm", "rectangle,1O,10", ["number-malformed 1 x_mm"]],
    ["x_mm,y_mm", "square,10,10", ["choice-unknown 1 shape"]],
    ["x_mm,y_mm", "rectangle,0,10", ["number-range 1 x_mm"]],
  ])("%s: %s gives %j", (columns, cells, expected) => {
    expect(field(columns, cells)).toEqual(expected);
  });

  test.each([
    ["fwhm_x_mm,fwhm_y_mm", "5.1,5.0", []],
    ["fwhm_x_mm,fwhm_y_mm", "5.1,", ["pair-incomplete 1 fwhm_x_mm"]],
    ["fwhm_x_mm,fwhm_y_mm", ",5.0", ["pair-incomplete 1 fwhm_y_mm"]],
    ["fwhm_x_mm", "5.1", ["pair-incomplete 1 fwhm_x_mm"]],
    ["offset_x_mm,offset_y_mm", "0.1,", ["pair-incomplete 1 offset_x_mm"]],
    ["offset_x_mm,offset_y_mm", "-0.1,0", []],
    ["sigma_mm,sigma_u_mm", "1.5,", []],
    ["sigma_mm,sigma_u_mm", "1.5,0.75", []],
    ["sigma_mm,sigma_u_mm", "1.5,0.76", ["number-range 1 sigma_u_mm"]],
    ["sigma_mm,sigma_u_mm", ",0.5", ["pair-incomplete 1 sigma_u_mm"]],
    ["k_volume,k_volume_u", "1.01,0.002", []],
    ["k_volume,k_volume_u", ",0.002", ["pair-incomplete 1 k_volume_u"]],
    ["fwhm_x_mm,fwhm_y_mm", "5.1,five", ["number-malformed 1 fwhm_y_mm"]],
  ])("%s of %s go with each other: %j", (columns, cells, expected) => {
    expect(field(`diameter_mm,${columns}`, `circle,5,${cells}`)).toEqual(expected);
  });
});
