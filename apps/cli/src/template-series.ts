/** Signals of one condition of the example, in nC and net of background; the second has more of the stem light. */
interface ExampleCondition {
  readonly condition: string;
  readonly signals: readonly [number, number];
  /** The cells that describe the condition, by column. */
  readonly cells: Readonly<Record<string, string>>;
}

/** What one table of a new campaign holds. */
export interface TemplateSeries {
  readonly series: "background" | "separation" | "calibration" | "output-factors";
  readonly title: string;
  /** What to deliver, in order. */
  readonly deliver: readonly string[];
  /** Optional columns that the table is written with; those that every campaign needs are there anyhow. */
  readonly columns: readonly string[];
  readonly example: readonly ExampleCondition[];
}

const separated = (condition: string, role: string, fibre_mm: string, signals: readonly [number, number]) => ({
  condition,
  signals,
  cells: { dose_group: "100x100", role, fibre_mm, mu: "100" },
});

const field = (condition: string, role: string, signals: readonly [number, number], size: Record<string, string>) => ({
  condition,
  signals,
  cells: { role, mu: "100", ...size },
});

const rectangle = (x_mm: string, y_mm: string, fwhm_x_mm: string, fwhm_y_mm: string) => ({
  shape: "rectangle",
  x_mm,
  y_mm,
  fwhm_x_mm,
  fwhm_y_mm,
});

const always = ["time", "temperature_C", "exclude", "note"];

const reference = field("100x100", "reference", [7.55, 4.5], rectangle("100", "100", "100.2", "100.1"));

/** The tables of a new campaign in the order of the chain. Every reading in them is invented. */
export const TEMPLATE: readonly TemplateSeries[] = [
  {
    series: "background",
    title: "Background: beam off",
    deliver: [
      "Leave the reader on for half an hour and irradiate the fibre with some 10 Gy before you begin.",
      "Beam off, room as for the readings: three readings or more before the others and three after them, with their integration time. Call the conditions before and after.",
    ],
    columns: [...always, "duration_s"],
    example: [
      { condition: "before", signals: [0, 0], cells: {} },
      { condition: "after", signals: [0, 0], cells: {} },
    ],
  },
  {
    series: "separation",
    title: "Separation: little and much fibre in the beam",
    deliver: [
      "Keep field, depth and active volume as they are and lay the fibre anew: all readings of one dose_group gave the active volume the same dose.",
      "Little fibre (out by the shortest way) and much fibre (a loop in the field): role fit, five readings each.",
      "Another length, and best one with more fibre than any so far: role verify, three readings or more. Without them the separation stays untested.",
    ],
    columns: [...always, "duration_s", "mu", "fibre_mm"],
    example: [
      separated("short", "fit", "50", [7.55, 4.5]),
      separated("long", "fit", "400", [18.4, 22]),
      separated("half", "verify", "200", [12.2, 12]),
      separated("longest", "verify", "600", [24.6, 32]),
    ],
  },
  {
    series: "calibration",
    title: "Calibration: dose known from a reference chamber",
    deliver: [
      "Measure the dose at the point with a reference-class chamber under your code of practice, the same day, before and after the fibre.",
      "Five readings of the fibre in the chamber's place. dose_Gy is the dose of that very reading, dose_u_percent its standard uncertainty, the same in all rows.",
    ],
    columns: [...always, "duration_s", "mu"],
    example: [
      { condition: "reference", signals: [7.55, 4.5], cells: { mu: "100", dose_Gy: "1.000", dose_u_percent: "0.7" } },
    ],
  },
  {
    series: "output-factors",
    title: "Output factors: the reference field, then the small ones",
    deliver: [
      "Centre the fibre in every field by a scan at depth, and take both widths (FWHM) of that very setting.",
      "The reference field first, again after every three to five fields, and last; three readings or more each.",
      "Give the monitor units of every reading in mu.",
    ],
    columns: [...always, "duration_s", "mu", "x_mm", "y_mm", "diameter_mm", "fwhm_x_mm", "fwhm_y_mm"],
    example: [
      reference,
      field("20x20", "field", [5.1111, 2.025], rectangle("20", "20", "20.1", "20.0")),
      field("10x10", "field", [4.3085, 1.575], rectangle("10", "10", "10.1", "9.9")),
      field("cone-5", "field", [2.978, 1.0413], {
        shape: "circle",
        diameter_mm: "5",
        fwhm_x_mm: "5.0",
        fwhm_y_mm: "5.1",
      }),
      reference,
    ],
  },
];
