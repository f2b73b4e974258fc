/** The series whose readings hold light to be separated, as headings. */
export const SERIES_WORDS = {
  separation: "Separation",
  calibration: "Calibration",
  "output-factors": "Output factors",
} as const;

/** One of them. */
export type LightSeries = keyof typeof SERIES_WORDS;
