import type { TableSeriesKind } from "@alcedo-dosimetry/campaign";

/** What a series is for and how it is measured, for whoever sees an empty stage. */
export interface Teaching {
  readonly title: string;
  /** What it gives, in a sentence. */
  readonly gives: string;
  /** What to do, in order. */
  readonly steps: readonly string[];
}

/** The names of series that are no stages of the chain. */
export const OTHER_SERIES = {
  "reference-set": "Reference set",
  "output-corrections": "Output corrections",
} as const;

/** What an empty stage says. */
export const TEACHING: Readonly<Partial<Record<TableSeriesKind, Teaching>>> = {
  background: {
    title: "No background yet",
    gives:
      "The background is what the reader shows with the beam off. It is taken away from every reading, by integration time.",
    steps: [
      "Beam off, room as for the readings.",
      "Three readings or more before the others, as long as they will be, under the condition “before”.",
      "Three or more after them, under “after”: so that a drift is seen.",
    ],
  },
  separation: {
    title: "No separation yet",
    gives:
      "The fibre itself glows in the beam. Readings at equal dose with little and with much fibre in the beam tell how that stem light divides between the channels: the stem ratio ρ.",
    steps: [
      "Give the tip the same dose twice: once with as little fibre in the beam as can be, once with much. Role “fit”, one dose group.",
      "At least one arrangement between or beyond them, kept aside with the role “verify”: only that shows that the ratio holds.",
      "Five readings under each condition.",
    ],
  },
  calibration: {
    title: "No calibration yet",
    gives: "Readings at a known dose in the reference field tie corrected light to Gy.",
    steps: [
      "Deliver a dose that reference dosimetry has given you, at the reference depth.",
      "Five readings; the dose and its standard uncertainty stand in each row.",
    ],
  },
  "output-factors": {
    title: "No output factors yet",
    gives:
      "Readings in each field over those in the reference field: the field output factors, each with its uncertainty.",
    steps: [
      "Begin and end with the reference field (role “reference”), and return to it between small fields.",
      "Each field: centre the tip, three to five readings, role “field”. State its shape and widths; measured widths at depth tell most.",
    ],
  },
};
