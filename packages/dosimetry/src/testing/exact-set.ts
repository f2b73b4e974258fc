/**
 * The exact set of docs/checks.md ("Light", status C): in nC at 100 cGy each, with ρ = 0.75 and 25.8065 cGy/nC. The numbers
 * follow from s = (0.05, 0.015) nC/cGy and c = (0.003, 0.004) nC per cGy and cm of fibre (docs/job.md, test set A).
 */
export const EXACT = {
  /** 5 cm of fibre in the beam. */
  little: [6.5, 3.5],
  /** 40 cm. */
  much: [17, 17.5],
  /** 20 cm. */
  half: [11, 9.5],
  /** 60 cm. */
  long: [23, 25.5],
  /** A small field: 60 cGy and 1.5 cm. */
  small: [3.27, 1.26],
} as const;

/** Test set B of docs/job.md (C): net nC of a field series, and the dose in cGy that they were made from. */
export const FIELD_SERIES = [
  { field: "40", signals: [5.456, 2.728], dose_cGy: 88.0 },
  { field: "20", signals: [4.779, 2.187], dose_cGy: 81.0 },
  { field: "10", signals: [4.0656, 1.6698], dose_cGy: 72.6 },
  { field: "6", signals: [3.5072, 1.3696], dose_cGy: 64.0 },
  { field: "5", signals: [3.2591, 1.2558], dose_cGy: 59.8 },
] as const;
