import type { RegimeName } from "@alcedo-dosimetry/simulator";

/** What each way of measuring is, in a line. */
export const REGIME_MEANINGS: Readonly<Record<RegimeName, string>> = {
  "five-repeats": "the usual one: five readings of each condition, a monitor reads along",
  "three-repeats": "three readings of each condition",
  "ten-repeats": "ten readings of each condition",
  "no-monitor": "nothing but the monitor units follows the output",
  "no-monitor-three-repeats": "the same with three readings of each condition",
  "weak-contrast": "fibre lengths so near each other that the second channel grows 1.8 times only",
  "weak-contrast-three-repeats": "the same with three readings of each condition",
  "one-reference": "the reference field is not repeated among the output factors",
  "many-references": "the reference field is repeated after every field",
  "random-walk": "the output walks; only the reference follows it among the output factors",
  "random-walk-three-repeats": "the same with three readings of each condition",
  "without-times": "no times are written down",
  "temperature-not-read": "no temperatures are written down",
  "known-doses": "a chamber reads along in the separation; three lengths of fibre in one fit",
  "flattening-free": "a beam without flattening filter",
  "additive-noise": "a reader whose constant noise outweighs all else in the smallest fields",
};
