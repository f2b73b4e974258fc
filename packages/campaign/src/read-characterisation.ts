import { isPositiveSemidefinite } from "@alcedo-dosimetry/metrology";
import { type Characterisation, characterisationSchema } from "./characterisation.ts";
import { keyFinding, schemaFaults } from "./descriptor-faults.ts";
import type { Finding } from "./finding.ts";
import { shown } from "./shown-text.ts";

/** The quantities that may stand behind the weights: dose per corrected signal. */
export const COEFFICIENTS = ["calibration.coefficient", "separation.coefficient"] as const;

/** What reading `characterisation.json` gives: the characterisation where it is valid, else all its faults. */
export interface CharacterisationReading {
  readonly characterisation?: Characterisation;
  readonly findings: readonly Finding[];
}

/** Reads the JSON value of a characterisation: its form, and that its parts fit each other. */
export function readCharacterisation(json: unknown, file: string): CharacterisationReading {
  const form = schemaFaults(json, characterisationSchema, file);
  if (form.length > 0) return { findings: form };
  const characterisation = json as Characterisation;
  const findings = [...quantityFaults(characterisation, file), ...covarianceFaults(characterisation, file)];
  return findings.length > 0 ? { findings } : { characterisation, findings };
}

/** Ids of the weights in their order: one stem ratio for two channels. */
export function weightIds(channels: readonly string[]): string[] {
  return channels.length === 2
    ? ["separation.stem-ratio"]
    : channels.slice(1).map((channel) => `separation.weight.${channel}`);
}

function quantityFaults({ quantities, channels, signalUnit }: Characterisation, file: string): Finding[] {
  const ids = quantities.map(({ id }) => id);
  const weights = weightIds(channels);
  const rest = ids.slice(weights.length);
  const fits =
    weights.every((id, i) => ids[i] === id) &&
    rest.length <= 1 &&
    rest.every((id) => (COEFFICIENTS as readonly string[]).includes(id));
  if (!fits) {
    const wanted = `${weights.join(", ")}, and at most one of ${COEFFICIENTS.join(", ")}`;
    return [
      keyFinding(
        "value-form",
        ["quantities"],
        `are ${ids.map(shown).join(", ")}; they have to be ${wanted}.`,
        {},
        file,
      ),
    ];
  }
  const findings: Finding[] = [];
  quantities.forEach(({ id, unit, value }, i) => {
    const isWeight = i < weights.length;
    const needed = isWeight ? "1" : `Gy/${signalUnit}`;
    if (unit !== needed)
      findings.push(
        keyFinding("value-form", ["quantities", i, "unit"], `is ${shown(unit)}; ${id} is in ${needed}.`, {}, file),
      );
    if (value <= 0 && (!isWeight || channels.length === 2))
      findings.push(keyFinding("value-range", ["quantities", i, "value"], `is ${value}; ${id} is above 0.`, {}, file));
  });
  return findings;
}

function covarianceFaults({ quantities, covariance }: Characterisation, file: string): Finding[] {
  const n = quantities.length;
  const fault = (what: string) => [keyFinding("value-form", ["covariance"], what, {}, file)];
  if (covariance.length !== n || covariance.some((row) => row.length !== n))
    return fault(`has to have ${n} rows of ${n} numbers, one for each quantity.`);
  if (covariance.some((row, i) => row.some((entry, j) => entry !== covariance[j]![i])))
    return fault("is not symmetric.");
  if (covariance.some((row, i) => row[i]! < 0) || !isPositiveSemidefinite(covariance.flat(), n))
    return fault("cannot be a covariance: some combination of the quantities would have a negative variance.");
  return [];
}
