/** The range of a published output correction factor over field sizes. */
export interface OutputCorrectionRange {
  readonly from: number;
  readonly to: number;
  /** Relative standard uncertainty. */
  readonly u: number;
  /** Side of the smallest and of the largest field, in mm. */
  readonly smallest_mm: number;
  readonly largest_mm: number;
  readonly source: string;
}

/**
 * Output correction of a fully simulated water-equivalent scintillator, composition, averaging and quenching
 * together. It is one within its uncertainty, for they nearly cancel.
 */
export const WATER_EQUIVALENT_OUTPUT_CORRECTION: OutputCorrectionRange = {
  from: 0.999,
  to: 1.002,
  u: 0.005,
  smallest_mm: 6,
  largest_mm: 300,
  source: "arXiv:2410.00999",
};
