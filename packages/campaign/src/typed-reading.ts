import { SIGNAL_PREFIX } from "./columns.ts";
import { fittingName } from "./name-text.ts";
import { present } from "./present.ts";
import type { TypedRow } from "./read-rows.ts";
import type {
  CalibrationReading,
  ExcludedReading,
  OutputCorrection,
  OutputFactorReading,
  Reading,
  ReferenceValue,
  SeparationReading,
} from "./reading.ts";

const number = (row: TypedRow, column: string): number | undefined => row.cells.get(column)?.number;
const text = (row: TypedRow, column: string): string | undefined => row.cells.get(column)?.text;

/** The numbers that the row has of these columns, added to what is known of it. */
function withNumbers<T extends object, K extends string>(
  known: T,
  row: TypedRow,
  columns: readonly K[],
): T & { [key in K]?: number } {
  const more: { [key in K]?: number } = {};
  for (const column of columns) {
    const value = row.cells.get(column)?.number;
    if (value !== undefined) more[column] = value;
  }
  return Object.assign(known, more);
}

const MOMENT = ["time", "duration_s", "mu", "monitor", "temperature_C"] as const;
const FIELD = [
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
] as const;

/** The part common to all point series, or `undefined` when the row lacks what every reading has. */
export function reading(row: TypedRow, channels: readonly string[]): Reading | undefined {
  const signals = channels.map((channel) => row.cells.get(SIGNAL_PREFIX + channel));
  const id = text(row, "reading");
  if (row.faulty || id === undefined || row.condition === undefined) return undefined;
  if (!signals.every((signal) => signal?.number !== undefined)) return undefined;
  const note = text(row, "note");
  const known = {
    id,
    row: row.row,
    line: row.line,
    condition: row.condition,
    signals: signals.map((signal) => signal!.number!),
    digits: signals.map((signal) => signal!.digit!),
    ...(note !== undefined && { note }),
  };
  return withNumbers(known, row, MOMENT);
}

/** A reading of the separation series. */
export function separationReading(row: TypedRow, channels: readonly string[]): SeparationReading | undefined {
  const base = reading(row, channels);
  const doseGroup = text(row, "dose_group");
  const role = text(row, "role") as SeparationReading["role"] | undefined;
  if (base === undefined || doseGroup === undefined || role === undefined) return undefined;
  return withNumbers(Object.assign(base, { doseGroup, role }), row, ["dose_Gy", "dose_u_Gy", "fibre_mm"]);
}

/** A reading of the calibration series. */
export function calibrationReading(row: TypedRow, channels: readonly string[]): CalibrationReading | undefined {
  const base = reading(row, channels);
  const dose_Gy = number(row, "dose_Gy");
  const dose_u_percent = number(row, "dose_u_percent");
  if (base === undefined || dose_Gy === undefined || dose_u_percent === undefined) return undefined;
  return Object.assign(base, { dose_Gy, dose_u_percent });
}

/** A reading of the output-factor series. */
export function outputFactorReading(row: TypedRow, channels: readonly string[]): OutputFactorReading | undefined {
  const base = reading(row, channels);
  const role = text(row, "role") as OutputFactorReading["role"] | undefined;
  const shape = text(row, "shape") as OutputFactorReading["shape"] | undefined;
  if (base === undefined || role === undefined || shape === undefined) return undefined;
  return withNumbers(Object.assign(base, { role, shape }), row, FIELD);
}

/** An output factor from elsewhere. */
export function referenceValue(row: TypedRow): ReferenceValue | undefined {
  const output_factor = number(row, "output_factor");
  const u_percent = number(row, "u_percent");
  const source = text(row, "source");
  if (row.faulty || output_factor === undefined || u_percent === undefined || source === undefined) return undefined;
  const place = present({ condition: row.condition, equivalent_square_mm: number(row, "equivalent_square_mm") });
  return { row: row.row, line: row.line, ...place, output_factor, u_percent, source };
}

/** An output correction of a detector. */
export function outputCorrection(row: TypedRow): OutputCorrection | undefined {
  const equivalent_square_mm = number(row, "equivalent_square_mm");
  const output_correction = number(row, "output_correction");
  const u_percent = number(row, "u_percent");
  const source = text(row, "source");
  if (row.faulty || equivalent_square_mm === undefined || output_correction === undefined) return undefined;
  if (u_percent === undefined || source === undefined) return undefined;
  return { row: row.row, line: row.line, equivalent_square_mm, output_correction, u_percent, source };
}

/** What can be read of a reading that was left out. */
export function excludedReading(row: TypedRow, channels: readonly string[]): ExcludedReading {
  return present({
    id: text(row, "reading"),
    row: row.row,
    line: row.line,
    // the name as results have it, without a notice: of a reading that is left out nobody need be told
    condition: row.condition === undefined ? undefined : fittingName(row.condition) || undefined,
    exclude: row.exclude ?? "",
    excludedBy: text(row, "excluded_by"),
    note: text(row, "note"),
    time: number(row, "time"),
    duration_s: number(row, "duration_s"),
    mu: number(row, "mu"),
    monitor: number(row, "monitor"),
    temperature_C: number(row, "temperature_C"),
    doseGroup: text(row, "dose_group"),
    dose_Gy: number(row, "dose_Gy"),
    dose_u_Gy: number(row, "dose_u_Gy"),
    dose_u_percent: number(row, "dose_u_percent"),
    signals: channels.map((channel) => number(row, SIGNAL_PREFIX + channel)),
  });
}
