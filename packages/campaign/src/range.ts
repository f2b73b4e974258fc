/** A span of possible values, ends included unless `above` is set (then the lower end is excluded). */
export interface Range {
  readonly min: number;
  readonly max: number;
  readonly above?: true;
  /** Unit for messages, empty for pure numbers. */
  readonly unit: string;
}

function from(min: number, max: number, unit = ""): Range {
  return { min, max, unit };
}

function above(min: number, max: number, unit = ""): Range {
  return { min, max, unit, above: true };
}

/**
 * What is *impossible*, quantity by quantity: outside, the value is an error, since a unit or a decimal sign must be wrong.
 * What is merely unusual is no business of this table. Bounds are wide on purpose; they are proposed defaults of this
 * format, with the thought behind each beside it.
 */
export const RANGES = {
  /** °C. Water freezes and phantoms melt well inside; 72 °F and 295 K fall outside. */
  temperature_C: from(-20, 60, "°C"),
  /** °C. No room spreads further. */
  temperature_u_C: from(0, 20, "°C"),
  /** Relative change of light per kelvin; 5 % is ten times any organic scintillator's. */
  temperatureCoefficient_perK: from(-0.05, 0.05, "per K"),
  temperatureCoefficient_u_perK: from(0, 0.05, "per K"),
  /** Standard uncertainties in per cent; beyond 20 % there is no measurement. */
  uncertainty_percent: from(0, 20, "%"),
  /** Limit of the separation's residual in per cent. */
  criterion_percent: above(0, 20, "%"),
  /** Lengths of an active volume. */
  activeVolume_mm: above(0, 100, "mm"),
  /** Standard uncertainties of positions and widths. */
  length_u_mm: from(0, 20, "mm"),
  /** Gaussian blur of a field's edge: cobalt units at long distances stay under 20 mm. */
  sigma_mm: above(0, 50, "mm"),
  sigma_u_mm: from(0, 50, "mm"),
  /** An output correction factor of a usable detector. */
  outputCorrection: from(0.5, 2),
  factor_u: from(0, 0.5),
  /** The intermediate field's output over the reference field's. */
  intermediateLink: from(0.1, 3),
  /** Accumulated dose of a detector. */
  accumulatedDose_Gy: from(0, 1e9, "Gy"),
  /** Ten years: no fibre is trusted longer. */
  age_days: above(0, 3653, "days"),
  /** Nominal accelerating potential of photon beams, from orthovoltage upwards. */
  energy_MV: above(0, 100, "MV"),
  energy_MeV: above(0, 100, "MeV"),
  /** Source to surface: total-body treatments reach 6 m. */
  ssd_mm: above(0, 20_000, "mm"),
  depth_mm: from(0, 2000, "mm"),
  magneticField_T: from(0, 20, "T"),
  /** Integration time of one reading, up to a day. */
  duration_s: above(0, 86_400, "s"),
  mu: above(0, 1e6, "MU"),
  /** With the beam off no monitor units are delivered. */
  mu_beamOff: from(0, 1e6, "MU"),
  /** Any unit and either polarity; far beyond what a reader shows lies a slipped exponent. */
  reading: from(-1e30, 1e30),
  dose_Gy: above(0, 10_000, "Gy"),
  dose_u_Gy: from(0, 10_000, "Gy"),
  fibre_mm: from(0, 20_000, "mm"),
  /** Nominal and measured field sizes. */
  field_mm: above(0, 2000, "mm"),
  /** Distance of the tip from the field's centre along one axis. */
  offset_mm: from(-500, 500, "mm"),
  /** A volume-averaging correction: 5 would mean that four fifths of the signal are lost. */
  volumeCorrection: from(0.2, 5),
  volumeCorrection_u: from(0, 2),
  outputFactor: above(0, 5),
  referenceSet_u_percent: from(0, 50, "%"),
} as const satisfies Record<string, Range>;

/**
 * The most that the standard uncertainty of an edge's blur may be of the blur: it is drawn between value ± √3·u, and must
 * stay well above zero.
 */
export const VAGUEST_SIGMA = 0.5;

/** True inside the range; false for anything that is not finite. */
export function isWithin(value: number, range: Range): boolean {
  return (range.above ? value > range.min : value >= range.min) && value <= range.max;
}

/** `between -20 and 60 °C`, `above 0 and up to 2000 mm`. */
export function rangeInWords(range: Range): string {
  const unit = range.unit === "" ? "" : ` ${range.unit}`;
  return range.above
    ? `above ${range.min} and up to ${range.max}${unit}`
    : `between ${range.min} and ${range.max}${unit}`;
}
