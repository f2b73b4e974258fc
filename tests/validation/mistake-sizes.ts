/**
 * From which size on each mistake is caught in at least 95 % of campaigns, of five readings a condition unless another
 * regime is named: what docs/validation.md states, found by `npm run mistakes -- 100 --power`.
 */
import type { MistakeKind, RegimeName } from "@alcedo-dosimetry/simulator";

/** A mistake that the data show. */
interface Caught {
  /** Absent where the mistake has no size. */
  readonly size?: number;
  readonly regime?: RegimeName;
}

/** A mistake that nothing in a campaign shows: why, and what helps. */
interface Unseen {
  readonly unseen: string;
  readonly guard: string;
}

export const MISTAKE_SIZES: Readonly<Record<MistakeKind, Caught | Unseen>> = {
  "dose-unequal": { size: 1 },
  "verification-dose-unequal": { size: 1.5 },
  "output-drifts-within-condition": { size: 2 },
  "output-stepped": { size: 1.5, regime: "no-monitor" },
  "beam-stopped-early": { size: 5 },
  "field-set-wrong": { size: 30 },
  "detector-off-centre": { size: 3 },
  "monitor-sees-field": { size: 1 },
  "monitor-range-changed": { size: 1 },
  "scintillator-moved": { size: 2 },
  "fibre-bent": { size: 0.2 },
  "fibre-angle-changed": { size: 0.5 },
  "other-energy": { size: 7 },
  "aged-between-days": { size: 1.5 },
  "connector-loosened": { size: 1 },
  "room-light-in-condition": { size: 0.15 },
  "first-channel-saturated": { size: 0.3 },
  "second-channel-saturated": { size: 0.2 },
  "gain-changed": { size: 0.7 },
  "channel-dead": {},
  "channels-noisy": { size: 11 },
  outlier: { size: 5 },
  "warm-up-skipped": { size: 2 },
  "background-lights-on": { size: 0.0001 },
  afterglow: { size: 0.001 },
  "already-net": {
    unseen: "the background table is in order by itself, and so are readings that are smaller by it",
    guard: "a reading with the beam off and the settings of the others: it must show the background",
  },
  "single-reading": {},
  "channels-swapped": {},
  "channels-swapped-in-row": {},
  "rows-pasted-twice": { size: 1 },
  "signals-copied-down": {
    unseen: "a copy is like its neighbour, as repeats should be; it moves no result by more than a fiftieth of U",
    guard: "the reader's own file in place of typing",
  },
  "decimal-slipped": { size: 1.02 },
  "digits-transposed": { size: 1 },
  "unit-slipped": { size: 1.02 },
  "sign-flipped": {},
  "digits-lost": { size: 2 },
  "reading-misnamed": {},
  "conditions-swapped": {},
  "separation-conditions-swapped": {},
  "background-duration-mistyped": { size: 1.3 },
  "duration-mistyped": { size: 3 },
  "mu-mistyped": { size: 1.05 },
  "monitor-mistyped": { size: 1.02 },
  "field-size-mistyped": { size: 1.5 },
  "field-width-mistyped": { size: 1.5 },
  "field-called-reference": {},
  "temperature-in-fahrenheit": {},
  "temperature-mistyped": { size: 5 },
  "dose-u-as-fraction": {},
  "dose-in-cgy": {},
  "time-mistyped": { size: 1 },
  "correction-applied-twice": { size: 5 },
  "volume-mistyped": { size: 8 },
  "coefficient-in-percent": {},
  "digits-dropped-throughout": {
    unseen: "nothing is spoilt: the last digit of a channel is the finest that it shows over its series",
    guard: "none is needed",
  },
};
