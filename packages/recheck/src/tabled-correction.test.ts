import type { Campaign } from "@alcedo-dosimetry/campaign";
import { evaluate } from "@alcedo-dosimetry/campaign";
import { describe, expect, it } from "vitest";
import { widthKeys } from "./equivalent-square.ts";
import { averagesApart, tabledCorrection, tableInputs } from "./tabled-correction.ts";
import { bothRoutes, disagreements } from "./testing/both-routes.ts";
import { campaignOf, Laboratory, type Row, usualRows } from "./testing/invented-campaign.ts";
import { typedField } from "./testing/typed-readings.ts";

/** Invented: no detector's. */
const INVENTED: readonly (readonly [square: number, k: number, u: number])[] = [
  [5, 1.02, 0.8],
  [10, 1.01, 0.4],
  [20, 1.002, 0.4],
  [100, 1, 0],
];

const table = (rows = INVENTED, volumeAveraging?: "included" | "apart") => ({
  resource: "output-corrections",
  file: "output-corrections.csv",
  values: rows.map(([equivalent_square_mm, output_correction, u_percent], i) => ({
    row: i + 1,
    line: i + 2,
    equivalent_square_mm,
    output_correction,
    u_percent,
    source: "invented",
  })),
  ...(volumeAveraging && { volumeAveraging }),
});

const square = (side: number, role: "field" | "reference" = "field") => ({
  key: "output-factors/f",
  condition: "f",
  readings: [],
  role,
  field: typedField("f", { condition: "f", x_mm: side, y_mm: side }),
});

const still = () => 0;
const ERROR = "output-corrections/invented/field";

describe("an output correction off the table", () => {
  it("is the row's own at its size, and half way in ln S the mean of two rows (by hand)", () => {
    for (const [side, k] of INVENTED) expect(tabledCorrection(table(), square(side), still)).toBeCloseTo(k, 14);
    expect(tabledCorrection(table(), square(Math.sqrt(50)), still)).toBeCloseTo(1.015, 14);
    expect(tabledCorrection(table([...INVENTED].reverse()), square(40), still)).toBeCloseTo(1.001138647, 9);
  });

  it("moves with the error that the rows of a source have in common, each by its u", () => {
    const moved = (side: number, role: "field" | "reference") =>
      tabledCorrection(table(), square(side, role), (key) => (key === ERROR ? 1 : 0));
    expect(moved(5, "field")).toBeCloseTo(1.02 * 1.008, 14);
    expect(moved(10, "field")).toBeCloseTo(1.01 * 1.004, 14);
    expect(moved(10, "reference")).toBe(1.01);
  });

  it("moves with the size along the steeper of two lines that meet there", () => {
    const [x] = widthKeys("f");
    const moved = tabledCorrection(table(), square(10), (key) => (key === x ? 0.2 : 0))!;
    // the square grows to √(10.2·10); below 10 mm the line falls by 0.010 over ln 2
    expect(moved).toBeCloseTo(1.01 - (0.01 * Math.log(Math.sqrt(1.02))) / Math.LN2, 12);
  });

  it("is the end's within a tenth beyond it, with an error of its own, and none farther out", () => {
    expect(tabledCorrection(table(), square(4.8), still)).toBe(1.02);
    expect(tabledCorrection(table(), square(108), still)).toBe(1);
    expect(tabledCorrection(table(), square(4.4), still)).toBeUndefined();
    expect(tabledCorrection(table(), square(111), still)).toBeUndefined();
    const end = tableInputs(table(), [square(4.8)]).find(({ keys }) => keys[0]!.endsWith("beyond-table"))!;
    expect(Math.sqrt(end.covariance[0]![0]!)).toBeCloseTo(5.88937e-4, 8);
    expect(tableInputs(table(), [square(5)]).map(({ keys }) => keys[0])).toEqual([
      ERROR,
      "output-corrections/invented/reference",
    ]);
  });

  it("of a table of one row serves its size alone", () => {
    expect(tabledCorrection(table(INVENTED.slice(1, 2)), square(10), still)).toBe(1.01);
    expect(tabledCorrection(table(INVENTED.slice(1, 2)), square(10.1), still)).toBeUndefined();
  });

  it("holds volume averaging unless the table says that it does not", () => {
    expect([undefined, table(), table(INVENTED, "included"), table(INVENTED, "apart")].map(averagesApart)).toEqual([
      true,
      false,
      false,
      true,
    ]);
  });
});

describe("both routes agree with a table of output corrections", () => {
  const rowsOf = (rows: typeof INVENTED, more: (i: number) => Row = () => ({})) =>
    rows.map(([equivalent_square_mm, output_correction, u_percent], i) => ({
      equivalent_square_mm,
      output_correction,
      u_percent,
      source: "invented",
      ...more(i),
    }));
  const campaign = (corrections: Row[]): Campaign =>
    campaignOf({ ...usualRows(new Laboratory(), 3), "output-corrections": corrections });
  /** The fields of the usual make: 100.05 mm, 30.05, 10.05 and a cone of 4.95 mm, S = 4.387 mm. */
  const REACHING = [[4, 1.03, 0.8], ...INVENTED] as const;

  it.each([
    ["that holds volume averaging", rowsOf(REACHING), 3],
    ["that does not", rowsOf(REACHING, () => ({ volume_averaging: "apart" })), 3],
    ["from two sources", rowsOf(REACHING, (i) => ({ source: i < 2 ? "one" : "another" })), 3],
    ["whose end is just short of the smallest field", rowsOf([[4.6, 1.025, 0.8], ...INVENTED.slice(1)]), 3],
    ["that is too short for it", rowsOf(INVENTED), 2],
    ["with an uncertain reference", rowsOf([...REACHING.slice(0, 4), [100, 1.001, 0.4]]), 3],
  ])("%s", (_, corrections, fields) => {
    const rows = bothRoutes(campaign(corrections));
    expect(disagreements(rows)).toEqual([]);
    for (const front of ["output-factor.", "output-correction."])
      expect(rows.filter(({ id, value }) => id.startsWith(front) && value !== null)).toHaveLength(fields);
  });

  it("at a row's own size", () => {
    const at = Math.sqrt(10 * 10.1); // the widths of the field 10x10
    const rows = bothRoutes(
      campaign(
        rowsOf([
          [4, 1.03, 0.8],
          [at, 1.01, 0.4],
          [20, 1.008, 0.4],
          [100, 1, 0],
        ]),
      ),
    );
    expect(disagreements(rows)).toEqual([]);
    expect(rows.find(({ id }) => id === "output-correction.10x10")!.value).toBeCloseTo(1.01, 12);
  });

  it("and without the reference in it neither gives an output factor", () => {
    const { result } = evaluate(
      campaign(
        rowsOf([
          [4, 1.03, 0.8],
          [20, 1, 0],
        ]),
      ),
    );
    expect(result.findings.map(({ code }) => code)).toContain("correction-table-without-reference");
    expect(result.quantities.filter(({ id }) => id.startsWith("output-factor."))).toEqual([]);
  });
});
