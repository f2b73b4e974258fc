import { describe, expect, test } from "vitest";
import { ALL_OR_NONE, COMPANIONS, CONDITION_COLUMNS, columnsOf } from "./columns.ts";
import type { TableSeriesKind } from "./read-descriptor.ts";

const KINDS: TableSeriesKind[] = [
  "background",
  "separation",
  "calibration",
  "output-factors",
  "output-corrections",
  "reference-set",
];
const names = (series: TableSeriesKind) => columnsOf(series, ["blue", "green"]).map((column) => column.name);

test("a background table has the columns of every point series, one signal for each channel", () => {
  expect(names("background")).toEqual([
    "reading",
    "condition",
    "time",
    "duration_s",
    "mu",
    "monitor",
    "temperature_C",
    "signal_blue",
    "signal_green",
    "exclude",
    "excluded_by",
    "note",
  ]);
});

test.each([
  ["separation", ["dose_group", "role", "dose_Gy", "dose_u_Gy", "fibre_mm"], ["dose_group", "role"]],
  ["calibration", ["dose_Gy", "dose_u_percent"], ["dose_Gy", "dose_u_percent"]],
  [
    "output-factors",
    [
      "role",
      "shape",
      "x_mm",
      "y_mm",
      "diameter_mm",
      "fwhm_x_mm",
      "fwhm_y_mm",
      "sigma_mm",
      "sigma_u_mm",
      "offset_x_mm",
      "offset_y_mm",
      "k_volume",
      "k_volume_u",
    ],
    ["role", "shape"],
  ],
] as const)("a table of %s has columns of its own besides", (series, own, needed) => {
  const all = names(series);
  expect(all.slice(0, 12)).toEqual(names("background"));
  expect(all.slice(12)).toEqual(own);
  const always = columnsOf(series, []).filter((column) => column.needed === "always");
  expect(always.map((column) => column.name)).toEqual(["reading", "condition", ...needed]);
});

describe.each(KINDS)("of a %s table", (series) => {
  const columns = columnsOf(series, ["blue", "green"]);

  test("every column has its own name and says what it means", () => {
    expect(new Set(names(series)).size).toBe(columns.length);
    for (const column of columns) expect(column.meaning).not.toBe("");
  });

  test("every number has a range and every choice its words", () => {
    for (const { kind, range, choices } of columns) {
      expect(range !== undefined).toBe(kind === "number");
      expect(choices !== undefined).toBe(kind === "choice");
    }
  });

  test("the unit of a column is the one in its name", () => {
    const units: Record<string, string> = { mm: "mm", Gy: "Gy", percent: "%", s: "s", C: "°C" };
    for (const { name, unit } of columns) {
      const ending = /_(mm|Gy|percent|s|C)$/.exec(name)?.[1];
      if (ending !== undefined) expect(unit).toBe(units[ending]);
    }
  });

  test("rules between columns speak of columns that exist", () => {
    const mentioned = [...COMPANIONS[series].flat(), ...CONDITION_COLUMNS[series], ...ALL_OR_NONE[series]];
    for (const name of mentioned) expect(names(series)).toContain(name);
  });
});
