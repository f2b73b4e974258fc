import { type Scalar, sum } from "@alcedo-dosimetry/metrology";

/**
 * What turns channel signals into scintillation light alone: S = Σ a_c·q_c with a_1 = 1. Of two channels the stem
 * ratio ρ = −a_2 is the known figure, and S = q_1 − ρ·q_2.
 */
export interface SeparationWeights {
  /** With two channels only. */
  readonly stemRatio?: Scalar;
  /** a_2 … a_n. */
  readonly weights: readonly Scalar[];
}

/** S of channel signals, in their unit. */
export function correctedSignal({ stemRatio, weights }: SeparationWeights, signals: readonly Scalar[]): Scalar {
  if (stemRatio) return signals[0]!.minus(stemRatio.times(signals[1]!));
  return sum([signals[0]!, ...weights.map((weight, c) => weight.times(signals[c + 1]!))]);
}

/**
 * How far a reading leans on the separation: the stem load ℓ = q_2/S. With more than two channels no single ratio has
 * that meaning, and the subtracted light over what is left takes its place.
 */
export function stemLoad(signals: readonly Scalar[], corrected: Scalar): Scalar {
  return signals.length === 2 ? signals[1]!.over(corrected) : signals[0]!.minus(corrected).over(corrected);
}

/** 1 − S/q_1: the part of the first channel that is taken away, crosstalk included. Never the Cherenkov fraction. */
export function subtractedFraction(signals: readonly Scalar[], corrected: Scalar): Scalar {
  return corrected.over(signals[0]!).negative().plus(1);
}
