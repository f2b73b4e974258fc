import type { Aperture } from "./aperture.ts";

/** A field that the physicist sets. */
export interface PlannedField {
  /** The condition's name, of small letters, digits, hyphens and points. */
  readonly name: string;
  readonly aperture: Aperture;
  /** Length of fibre that the field covers. */
  readonly fibre_mm: number;
}

/** One arrangement of the separation. */
export interface PlannedArrangement extends PlannedField {
  /** Angle of the fibre to the beam; 90 unless given. */
  readonly angle_deg?: number;
  readonly doseGroup: string;
  readonly role: "fit" | "verify";
  /** Whether the dose is known and written down. */
  readonly doseKnown?: boolean;
}

/** What is to be done, in order. */
export interface Plan {
  /** Readings with the beam off before and after everything else; none where the reader shows net signals. */
  readonly background?: { readonly before: number; readonly after: number; readonly duration_s: number };
  /** Readings of each condition with the beam on. */
  readonly repeats: number;
  readonly mu: number;
  readonly duration_s: number;
  /** From one reading to the next of one condition. */
  readonly interval_s: number;
  /** To set up the next condition. */
  readonly setup_s: number;
  readonly separation: readonly PlannedArrangement[];
  /** Absent where no dose is wanted. */
  readonly calibration?: PlannedField & {
    /** A chamber reads along with each reading, or one dose is written into every row. */
    readonly dose: "each-reading" | "constant";
  };
  /** A rest between calibration and output factors; 0 unless given. */
  readonly rest_s?: number;
  readonly outputFactors: {
    readonly reference: PlannedField;
    readonly fields: readonly PlannedField[];
    /** The reference is read first, and again each time that so many fields are done; never again where 0. */
    readonly referenceEvery: number;
  };
}

/** The standard uncertainties that the physicist states, each of them true: errors are drawn with them. */
export interface StatedUncertainties {
  readonly doseEquality_u_percent: number;
  /** Of the dose of each group of the separation whose dose is known. */
  readonly groupDose_u_percent: number;
  readonly calibrationDose_u_percent: number;
  readonly positioning_u_mm: number;
  readonly fieldWidth_u_mm: number;
  readonly penumbraSigma_u_mm: number;
  readonly outputCorrection_u: number;
  readonly intermediateLink: { readonly value: number; readonly u: number };
  readonly temperatureCoefficient_u_perK: number;
  readonly temperature_u_C: number;
}

/** Who plans, measures and writes down. */
export interface Physicist {
  /** When the first reading is taken, as local time with its offset from UTC. */
  readonly start: { readonly year: number; readonly month: number; readonly day: number; readonly hour: number };
  /** Such as `+01:00`. */
  readonly utcOffset: string;
  readonly plan: Plan;
  readonly stated: StatedUncertainties;
  /** What is written beside the signals. */
  readonly writes: { readonly time: boolean; readonly mu: boolean; readonly temperature: boolean };
  /** Decimals of what is written beside the signals. */
  readonly decimals: { readonly temperature: number; readonly dose: number; readonly width: number };
  /** The series in which the monitor is read, where the laboratory has one. */
  readonly readsMonitorIn: readonly ("separation" | "calibration" | "output-factors")[];
  /** Relative standard deviation of the chamber's reading in the calibration. */
  readonly chamberNoise: number;
  readonly referenceTemperature_C: number;
}
