import { ONE, type Scalar, Unit } from "@alcedo-dosimetry/metrology";
import type { Chain } from "./chain.ts";
import type { SeparationWeights } from "./corrected-signal.ts";

/** Separation and calibration of another day: what they found, as one block of correlated estimates. */
export interface KnownCharacterisation {
  /** Two channels: the stem ratio alone; more: a_2 … a_n. */
  readonly weights: readonly number[];
  /** N_D in Gy per signal unit, where it is known. */
  readonly coefficient?: number;
  /** Of the weights, then the coefficient: row by row, in their units. */
  readonly covariance: readonly (readonly number[])[];
  /** Degrees of freedom of the covariance; undefined for many. */
  readonly dof?: number;
  /** Highest stem load at which the weights are proven; undefined where they never were. */
  readonly verifiedStemLoad?: number;
}

/** A characterisation as nodes of today's model. */
export interface AddedCharacterisation extends SeparationWeights {
  readonly coefficient: Scalar | undefined;
  readonly verifiedStemLoad: Scalar | undefined;
}

/**
 * Takes a characterisation of another day into today's chain. Weights and coefficient come from the same readings, so
 * they are one block: taken as independent, the stem ratio's error would move a dose further than it can.
 *
 * @param known whose covariance has one row for each weight, and one for the coefficient where that is known.
 * @throws RangeError where the covariance does not fit, as {@link Model.estimates} says.
 */
export function addCharacterisation(
  { model, channels, signalUnit }: Chain,
  { weights, coefficient, covariance, dof, verifiedStemLoad }: KnownCharacterisation,
): AddedCharacterisation {
  const two = channels.length === 2;
  const nodes = model.estimates({
    key: "characterisation",
    type: "B",
    covariance: covariance.flat(),
    ...(dof !== undefined && { dof }),
    elements: [
      ...weights.map((value, c) =>
        two
          ? { name: "stem-ratio", symbol: "ρ", label: "stem ratio, characterised before", unit: ONE, value }
          : {
              name: `weight.${channels[c + 1]!}`,
              symbol: `a_${channels[c + 1]!}`,
              label: `separation weight of ${channels[c + 1]!}, characterised before`,
              unit: ONE,
              value,
            },
      ),
      ...(coefficient === undefined
        ? []
        : [
            {
              name: "coefficient",
              symbol: "N_D",
              label: "dose per corrected signal, characterised before",
              unit: Unit.parse("Gy").over(signalUnit),
              value: coefficient,
            },
          ]),
    ],
  });
  const own = nodes.slice(0, weights.length);
  return {
    ...(two && { stemRatio: own[0]! }),
    weights: two ? [own[0]!.negative()] : own,
    coefficient: coefficient === undefined ? undefined : nodes.at(-1)!,
    verifiedStemLoad:
      verifiedStemLoad === undefined
        ? undefined
        : model.constant({
            key: "characterisation/verified-stem-load",
            symbol: "ℓ_verified",
            label: "stem load up to which the characterisation was verified",
            unit: ONE,
            value: verifiedStemLoad,
          }),
  };
}
