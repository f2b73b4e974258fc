import type { Identity } from "./characterisation.ts";
import type { Descriptor } from "./descriptor.ts";
import { present } from "./present.ts";

/** One part of an identity in which a campaign and a characterisation differ. */
export interface IdentityDifference {
  /** The part in words, such as `beam energy`. */
  readonly what: string;
  readonly characterised: string;
  readonly here: string;
}

/** A comparison of two identities. */
export interface IdentityComparison {
  readonly differences: readonly IdentityDifference[];
  /** Parts that only one of the two states, in words. */
  readonly unstated: readonly string[];
}

/** What a campaign is measured with, as a characterisation states it. */
export function identityOf({ alcedo: { detector, beam } }: Descriptor): Identity {
  return present({
    fibre: detector.id,
    reader: detector.reader,
    gain: detector.gain,
    modality: beam.modality,
    energy_MV: beam.energy_MV,
    energy_MeV: beam.energy_MeV,
    flatteningFilter: beam.flatteningFilter,
    magneticField_T: beam.magneticField_T,
    magneticField_orientation: beam.magneticField_orientation,
  });
}

const PARTS: readonly (readonly [keyof Identity, string, string])[] = [
  ["fibre", "fibre", ""],
  ["reader", "reader", ""],
  ["gain", "gain", ""],
  ["modality", "modality", ""],
  ["energy_MV", "beam energy", " MV"],
  ["energy_MeV", "beam energy", " MeV"],
  ["flatteningFilter", "flattening filter", ""],
  ["magneticField_T", "magnetic field", " T"],
  ["magneticField_orientation", "orientation of the magnetic field", ""],
];

/** Compares what a characterisation holds for with what the campaign was measured with. */
export function compareIdentities(characterised: Identity, here: Identity): IdentityComparison {
  const differences: IdentityDifference[] = [];
  const unstated: string[] = [];
  for (const [key, what, unit] of PARTS) {
    const [a, b] = [partOf(characterised, key), partOf(here, key)];
    if (a === b) continue;
    if (a === undefined || b === undefined) unstated.push(what);
    else differences.push({ what, characterised: `${inWords(a)}${unit}`, here: `${inWords(b)}${unit}` });
  }
  return { differences, unstated };
}

/** A beam of which no magnetic field is stated has none. */
function partOf(identity: Identity, key: keyof Identity): string | number | boolean | undefined {
  return identity[key] ?? (key === "magneticField_T" ? 0 : undefined);
}

function inWords(value: string | number | boolean): string {
  return typeof value === "boolean" ? (value ? "with" : "without") : `${value}`;
}
