import { largestSource } from "./largest-contribution.ts";
import type { Quantity } from "./result.ts";

/** What to improve first about a quantity, and what that could gain at most. */
export interface Improvement {
  /** What contributes most, in two or three words. */
  readonly name: string;
  /** Its part of the variance, from 0 to 1. */
  readonly share: number;
  /** The standard uncertainty that would be left if it contributed nothing: u·√(1 − share). */
  readonly u: number;
  /** What would make it smaller. */
  readonly advice: string;
}

/** Below this share nothing stands out: the sources are too many for one to be worth the work. */
const STANDS_OUT = 0.2;

/** What makes an input smaller, by what its name begins with. The first that fits. */
const ADVICE: readonly (readonly [pattern: RegExp, advice: string])[] = [
  [
    /^output correction$/,
    "Repeating readings does not help: use a published output correction for this class of detector, or compare with a second detector.",
  ],
  [/^end of the correction table$/, "Use a table of output corrections that reaches to this field."],
  [/^intermediate link$/, "Measure the link through the intermediate field more closely."],
  [
    /^reference dose$/,
    "Repeating readings does not help: it comes with the reference dosimetry (chamber calibration, beam quality).",
  ],
  [/^calibration repeats$/, "Take more readings in the reference field."],
  [/^repeats of /, "Take more readings under this condition."],
  [/^last digit, /, "Deliver more monitor units per reading, or use a more sensitive range."],
  [/^background$/, "Take more background readings, or longer ones."],
  [
    /^separation$/,
    "Take more readings of the separation with least and with most fibre, and see that both get the same dose.",
  ],
  [
    /^drift of the reference$/,
    "Return to the reference field more often, or read a monitor detector with each reading.",
  ],
  [/^temperature/, "Let detector and phantom come to one temperature, and note it with each reading."],
  [/^volume averaging$/, "Measure the profile of this field, so that its penumbra is known and not assumed."],
  [/^positioning$/, "Centre the detector by a scan in both directions, and state the offsets that are left."],
  [/^field width$/, "Measure the widths of this field at depth more closely."],
  [
    /^blur of the fields' edges$/,
    "Measure a profile of the field: its penumbra gives sigma_mm in place of the assumption.",
  ],
  [/^model of the field/, "A smaller active volume, or a measured profile, leaves less to the model of the field."],
  [/^centring/, "Centre the detector by a scan in both directions, and state the offsets that are left."],
];

/** What to improve first; undefined where no source stands out, or there is no uncertainty. */
export function improvement(quantity: Quantity): Improvement | undefined {
  const { u } = quantity;
  const source = largestSource(quantity);
  if (u === null || !source || source.share < STANDS_OUT) return undefined;
  const { name, share } = source;
  const advice =
    ADVICE.find(([pattern]) => pattern.test(name))?.[1] ??
    `Look at ${name} first: more readings elsewhere gain little.`;
  return { name, share, u: u * Math.sqrt(Math.max(0, 1 - share)), advice };
}
