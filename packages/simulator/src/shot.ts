import type { PerChannel } from "./fibre.ts";
import type { PlannedField } from "./physicist.ts";

/** The series of a campaign, in the order in which they are measured. */
export const SERIES = ["background", "separation", "calibration", "output-factors"] as const;

/** A series of a campaign. */
export type SeriesName = (typeof SERIES)[number];

/** One reading as it will be taken, with everything that is not as it should be. Factors are one where all is well. */
export interface Shot {
  readonly series: SeriesName;
  readonly condition: string;
  /** Place in the plan, from 0: names the reading's random numbers. */
  readonly number: number;
  /** Which time something was set up: readings that share it are repeats between which nothing is moved. */
  readonly setup: number;
  /** Since the campaign began. */
  readonly time_s: number;
  readonly duration_s: number;
  /** The field that is really set; absent with the beam off. */
  readonly field?: PlannedField;
  readonly mu: number;
  readonly angle_deg: number;
  /** Output of the beam, seen by detector and monitor alike. */
  readonly output: number;
  /** Dose at the detector alone. */
  readonly dose: number;
  /** Light in each channel. */
  readonly light: PerChannel;
  /** Stem light in each channel. */
  readonly stem: PerChannel;
  /** nC per s in each channel beside the dark rate. */
  readonly extraRate_perS: PerChannel;
  readonly monitor: number;
  readonly noise: number;
  /** Of the detector, off where it is meant to stand. */
  readonly displaced_mm: PerChannel;
}

/** A shot at which all is well. */
export function plainShot(
  what: Pick<Shot, "series" | "condition" | "number" | "setup" | "time_s" | "duration_s" | "mu"> &
    Partial<Pick<Shot, "field" | "angle_deg" | "dose">>,
): Shot {
  return {
    angle_deg: 90,
    output: 1,
    dose: 1,
    light: [1, 1],
    stem: [1, 1],
    extraRate_perS: [0, 0],
    monitor: 1,
    noise: 1,
    displaced_mm: [0, 0],
    ...what,
  };
}
