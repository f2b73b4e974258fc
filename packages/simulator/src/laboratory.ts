import type { Beam } from "./beam.ts";
import type { Fibre } from "./fibre.ts";
import type { Monitor } from "./monitor.ts";
import type { Physicist } from "./physicist.ts";
import type { Reader } from "./reader.ts";

/** What happens in the laboratory, and what is left out of it to see the rest. */
export interface Effects {
  /** Fluctuation, walk and drift of the output; noise of reader, monitor and chamber. */
  readonly noise: boolean;
  /** Errors drawn from the stated uncertainties, once a campaign. */
  readonly typeB: boolean;
  /** The detector averages over its volume; else it is a point. */
  readonly volumeAveraging: boolean;
  /**
   * The loss by averaging departs from that of the profile by this part of itself (standard deviation, per condition):
   * what a model of the field may be wrong by. 0 for none.
   */
  readonly averagingModel_u: number;
  /** The detector stands off the field's centre by the stated uncertainty of positioning. */
  readonly misplacement: boolean;
}

/** A mistake to be made, of a kind in the catalogue. */
export interface PlannedMistake {
  readonly kind: string;
  readonly size: number;
}

/** A laboratory with everything known. Change it by making another: `{ ...laboratory, monitor: undefined }`. */
export interface Laboratory {
  /** Name of the campaign: a-z, 0-9, point, underscore and hyphen. */
  readonly name: string;
  readonly beam: Beam;
  readonly fibre: Fibre;
  readonly reader: Reader;
  /** Absent where nothing but the monitor units follows the output. */
  readonly monitor?: Monitor | undefined;
  /** Temperature at the detector when a campaign begins, its spread from campaign to campaign, and its change. */
  readonly room: { readonly temperature_C: number; readonly spread_C: number; readonly drift_perHour: number };
  readonly physicist: Physicist;
  readonly effects: Effects;
  readonly mistakes: readonly PlannedMistake[];
}

/** The same laboratory with a point for a detector, at the centre of every field: no averaging, no misplacement. */
export function pointDetector(laboratory: Laboratory): Laboratory {
  return { ...laboratory, effects: { ...laboratory.effects, volumeAveraging: false, misplacement: false } };
}

/** The same laboratory without noise and errors, and with twelve decimals of everything. */
export function noiseless(laboratory: Laboratory): Laboratory {
  const { effects, reader, monitor, physicist } = laboratory;
  return {
    ...laboratory,
    reader: { ...reader, decimals: 12 },
    ...(monitor && { monitor: { ...monitor, decimals: 12 } }),
    physicist: { ...physicist, decimals: { temperature: 12, dose: 12, width: 12 } },
    effects: { ...effects, noise: false, typeB: false, averagingModel_u: 0, misplacement: false },
  };
}

/** The same laboratory with so many readings of each condition. */
export function withRepeats(laboratory: Laboratory, repeats: number): Laboratory {
  const { physicist } = laboratory;
  const { background } = physicist.plan;
  const plan = {
    ...physicist.plan,
    repeats,
    ...(background && { background: { ...background, before: repeats, after: repeats } }),
  };
  return { ...laboratory, physicist: { ...physicist, plan } };
}
