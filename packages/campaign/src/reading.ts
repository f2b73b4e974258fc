/** What every reading of a point series holds, typed. Missing is absent. */
export interface Reading {
  /** The reading's id, unique in its table. */
  readonly id: string;
  /** Place in the table from 1. */
  readonly row: number;
  /** Physical line in the file from 1. */
  readonly line: number;
  /** Name of the condition, fitted to the pattern of names. */
  readonly condition: string;
  /** Seconds since 1970-01-01T00:00:00Z. */
  readonly time?: number;
  readonly duration_s?: number;
  readonly mu?: number;
  readonly monitor?: number;
  readonly temperature_C?: number;
  /** Raw readings in the descriptor's order of channels. */
  readonly signals: readonly number[];
  /** The worth of the last digit shown, channel by channel: `6.500` → 0.001. */
  readonly digits: readonly number[];
  readonly note?: string;
}

/** A reading with the beam off. */
export type BackgroundReading = Reading;

/** A reading of the separation series. */
export interface SeparationReading extends Reading {
  readonly doseGroup: string;
  readonly role: "fit" | "verify";
  readonly dose_Gy?: number;
  readonly dose_u_Gy?: number;
  readonly fibre_mm?: number;
}

/** A reading under reference conditions. */
export interface CalibrationReading extends Reading {
  readonly dose_Gy: number;
  readonly dose_u_percent: number;
}

/** A reading in a field; the description of the field is the same in all rows of its condition. */
export interface OutputFactorReading extends Reading {
  readonly role: "reference" | "field";
  readonly shape: "rectangle" | "circle";
  readonly x_mm?: number;
  readonly y_mm?: number;
  readonly diameter_mm?: number;
  readonly fwhm_x_mm?: number;
  readonly fwhm_y_mm?: number;
  readonly sigma_mm?: number;
  readonly sigma_u_mm?: number;
  readonly offset_x_mm?: number;
  readonly offset_y_mm?: number;
  readonly k_volume?: number;
  readonly k_volume_u?: number;
}

/**
 * A reading that was left out, with what of it can be read, so that a comparison can say what leaving it out did; its
 * cells stay in the table as typed.
 */
export interface ExcludedReading
  extends Partial<Pick<Reading, "id" | "condition" | "time" | "duration_s" | "mu" | "monitor" | "temperature_C">>,
    Partial<Pick<SeparationReading, "doseGroup" | "dose_Gy" | "dose_u_Gy">>,
    Partial<Pick<CalibrationReading, "dose_u_percent">> {
  readonly row: number;
  readonly line: number;
  /** The reason given. */
  readonly exclude: string;
  /** Who left it out, as far as the table says. */
  readonly excludedBy?: string;
  readonly note?: string;
  /** Signals in the order of channels; `undefined` where the cell is empty or no number. */
  readonly signals: readonly (number | undefined)[];
}

/** An output factor from elsewhere. */
export interface ReferenceValue {
  readonly row: number;
  readonly line: number;
  readonly condition?: string;
  readonly equivalent_square_mm?: number;
  readonly output_factor: number;
  readonly u_percent: number;
  readonly source: string;
}

/** A detector's output correction at one size of field. */
export interface OutputCorrection {
  readonly row: number;
  readonly line: number;
  readonly equivalent_square_mm: number;
  readonly output_correction: number;
  readonly u_percent: number;
  readonly source: string;
}

/** A table of output corrections, typed. */
export interface OutputCorrectionSet {
  readonly resource: string;
  readonly file: string;
  /** The sheet, where the campaign came from a workbook. */
  readonly sheet?: string;
  readonly values: readonly OutputCorrection[];
  /** Whether the factors hold volume averaging, as the table says; absent where it does not say. */
  readonly volumeAveraging?: "included" | "apart";
}

/** A point series, typed: the readings in force in the table's order, and those left out. */
export interface PointSeries<R extends Reading> {
  /** Name of the resource. */
  readonly resource: string;
  readonly file: string;
  /** The sheet, where the campaign came from a workbook. */
  readonly sheet?: string;
  readonly readings: readonly R[];
  readonly excluded: readonly ExcludedReading[];
}

/** A reference set, typed. */
export interface ReferenceSet {
  readonly resource: string;
  readonly file: string;
  /** The sheet, where the campaign came from a workbook. */
  readonly sheet?: string;
  readonly values: readonly ReferenceValue[];
}
