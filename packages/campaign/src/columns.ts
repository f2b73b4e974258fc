import { RANGES, type Range } from "./range.ts";
import type { TableSeriesKind } from "./read-descriptor.ts";

/**
 * What a column holds: free `text`; a `name` (condition); a `number`; a `time` of ISO 8601; a `choice` of words.
 */
export type ColumnKind = "text" | "name" | "number" | "time" | "choice";

/** One column of a table: the single source for reading, writing, templates, documents and schemas. */
export interface Column {
  readonly name: string;
  readonly kind: ColumnKind;
  /** `with-background`: where the campaign has a background series. */
  readonly needed: "always" | "with-background" | "no";
  readonly unit?: string;
  readonly range?: Range;
  readonly choices?: readonly string[];
  readonly meaning: string;
}

/** Prefix of the signal columns: one per channel, `signal_blue`. */
export const SIGNAL_PREFIX = "signal_";

type Extra = Partial<Pick<Column, "needed" | "unit" | "choices">>;

const text = (name: string, meaning: string, extra: Extra = {}): Column => ({
  name,
  kind: "text",
  needed: "no",
  meaning,
  ...extra,
});
const choice = (name: string, choices: readonly string[], meaning: string): Column => ({
  name,
  kind: "choice",
  needed: "always",
  choices,
  meaning,
});
const number = (name: string, range: Range, meaning: string, extra: Extra = {}): Column => ({
  name,
  kind: "number",
  needed: "no",
  range,
  ...(range.unit === "" ? {} : { unit: range.unit }),
  meaning,
  ...extra,
});
const always = { needed: "always" } as const;

const CONDITION: Column = {
  name: "condition",
  kind: "name",
  needed: "always",
  meaning: "arrangement of beam, geometry and fibre; rows of one condition are repeats",
};

/** The columns of every point series, the signals put in by channel. */
function pointColumns(channels: readonly string[], beamOff: boolean): Column[] {
  return [
    text("reading", "id of the reading, unique in its table", always),
    CONDITION,
    { name: "time", kind: "time", needed: "no", meaning: "when the reading was taken: ISO 8601 with offset" },
    number("duration_s", RANGES.duration_s, "integration time", { needed: "with-background" }),
    number("mu", beamOff ? RANGES.mu_beamOff : RANGES.mu, "monitor units delivered"),
    number("monitor", RANGES.reading, "reading of a reference detector that follows the beam's output, any one unit"),
    number("temperature_C", RANGES.temperature_C, "temperature at the detector"),
    ...channels.map((channel) =>
      number(
        SIGNAL_PREFIX + channel,
        RANGES.reading,
        `raw reading of the channel ${channel}, in the campaign's signalUnit`,
        always,
      ),
    ),
    text("exclude", "not empty: the reading is left out of the evaluation; the text is the reason"),
    text("excluded_by", "who left the reading out"),
    text("note", "free text"),
  ];
}

const SEPARATION: readonly Column[] = [
  text("dose_group", "rows of one group gave the active volume the same dose", always),
  choice("role", ["fit", "verify"], "used to find the weights, or kept aside to test them"),
  number("dose_Gy", RANGES.dose_Gy, "dose, where it is known"),
  number("dose_u_Gy", RANGES.dose_u_Gy, "standard uncertainty of the dose: the group's own part"),
  number("fibre_mm", RANGES.fibre_mm, "length of fibre in the beam"),
];

const CALIBRATION: readonly Column[] = [
  number("dose_Gy", RANGES.dose_Gy, "reference dose of this reading", always),
  number(
    "dose_u_percent",
    RANGES.uncertainty_percent,
    "standard uncertainty of the reference dose, common to the table",
    always,
  ),
];

const OUTPUT_FACTORS: readonly Column[] = [
  choice("role", ["reference", "field"], "the reference condition, or a field to be compared with it"),
  choice("shape", ["rectangle", "circle"], "shape of the field"),
  number("x_mm", RANGES.field_mm, "nominal width along x (rectangle)"),
  number("y_mm", RANGES.field_mm, "nominal width along y (rectangle)"),
  number("diameter_mm", RANGES.field_mm, "nominal diameter (circle)"),
  number("fwhm_x_mm", RANGES.field_mm, "measured width along x at depth"),
  number("fwhm_y_mm", RANGES.field_mm, "measured width along y at depth"),
  number("sigma_mm", RANGES.sigma_mm, "Gaussian blur of the field's edge"),
  number("sigma_u_mm", RANGES.sigma_u_mm, "standard uncertainty of sigma_mm"),
  number("offset_x_mm", RANGES.offset_mm, "measured distance of the tip from the field's centre along x"),
  number("offset_y_mm", RANGES.offset_mm, "measured distance of the tip from the field's centre along y"),
  number("k_volume", RANGES.volumeCorrection, "volume-averaging correction to use in place of the computed one"),
  number("k_volume_u", RANGES.volumeCorrection_u, "standard uncertainty of k_volume"),
];

const REFERENCE_SET: readonly Column[] = [
  { ...CONDITION, needed: "no", meaning: "condition of the output factors that this value is for" },
  number("equivalent_square_mm", RANGES.field_mm, "equivalent square small field size, where no condition is named"),
  number("output_factor", RANGES.outputFactor, "output factor from elsewhere", always),
  number("u_percent", RANGES.referenceSet_u_percent, "its standard uncertainty", always),
  text("source", "where the value comes from", always),
];

const OUTPUT_CORRECTIONS: readonly Column[] = [
  number("equivalent_square_mm", RANGES.field_mm, "equivalent square small field size", always),
  number("output_correction", RANGES.outputCorrection, "field output correction factor k", always),
  number("u_percent", RANGES.uncertainty_percent, "its standard uncertainty, common to the rows of a source", always),
  text("source", "where the value comes from", always),
  {
    ...choice("volume_averaging", ["included", "apart"], "whether the factors hold volume averaging; empty: included"),
    needed: "no",
  },
];

/** The columns of one series' table, in the order in which they are written; signals by channel. */
export function columnsOf(series: TableSeriesKind, channels: readonly string[]): readonly Column[] {
  switch (series) {
    case "background":
      return pointColumns(channels, true);
    case "separation":
      return [...pointColumns(channels, false), ...SEPARATION];
    case "calibration":
      return [...pointColumns(channels, false), ...CALIBRATION];
    case "output-factors":
      return [...pointColumns(channels, false), ...OUTPUT_FACTORS];
    case "output-corrections":
      return OUTPUT_CORRECTIONS;
    case "reference-set":
      return REFERENCE_SET;
  }
}

/** Columns of one reading or condition that mean nothing, or not enough, without another: [has, needs]. */
export const COMPANIONS: Readonly<Record<TableSeriesKind, readonly (readonly [string, string])[]>> = {
  background: [],
  separation: [["dose_u_Gy", "dose_Gy"]],
  calibration: [],
  "output-factors": [
    ["fwhm_x_mm", "fwhm_y_mm"],
    ["fwhm_y_mm", "fwhm_x_mm"],
    ["sigma_u_mm", "sigma_mm"],
    ["offset_x_mm", "offset_y_mm"],
    ["offset_y_mm", "offset_x_mm"],
    ["k_volume_u", "k_volume"],
  ],
  "output-corrections": [],
  "reference-set": [],
};

/** Columns that describe a condition, and so must agree in all its rows. */
export const CONDITION_COLUMNS: Readonly<Record<TableSeriesKind, readonly string[]>> = {
  background: [],
  separation: ["dose_group", "role", "fibre_mm"],
  calibration: [],
  "output-factors": OUTPUT_FACTORS.map((column) => column.name),
  "output-corrections": [],
  "reference-set": [],
};

/** Columns that are filled in for every reading in force, or for none: half a column would mix two normalisations. */
export const ALL_OR_NONE: Readonly<Record<TableSeriesKind, readonly string[]>> = {
  background: ["time"],
  separation: ["time", "mu", "monitor"],
  calibration: ["time", "mu", "monitor"],
  "output-factors": ["time", "mu", "monitor"],
  "output-corrections": [],
  "reference-set": [],
};
