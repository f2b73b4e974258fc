import { propagate } from "@alcedo-dosimetry/metrology";
import type { Campaign } from "./campaign.ts";
import type { Characterisation } from "./characterisation.ts";
import { identityOf } from "./characterisation-identity.ts";
import type { Evaluation } from "./evaluate.ts";
import { dayOf } from "./iso-time.ts";
import { quantityCovariance } from "./quantity-covariance.ts";
import { COEFFICIENTS, weightIds } from "./read-characterisation.ts";

/** Why an evaluation holds no characterisation that other days could use. */
export class NoCharacterisationError extends Error {
  override readonly name = "NoCharacterisationError";
}

/**
 * What a campaign's separation and calibration found, to be used on other days: values with their covariance, the inputs
 * behind them, and the identity that they hold for.
 *
 * @param date the day of the readings, YYYY-MM-DD; that of the last reading of separation and calibration unless given.
 * @throws NoCharacterisationError where the separation is broken or not the campaign's own, where its uncertainty is
 *   unknown, or where nothing tells the day.
 */
export function characterisationOf(campaign: Campaign, evaluation: Evaluation, date?: string): Characterisation {
  const { model, evaluated, nodes, result } = evaluation;
  const separation = result.stages.find(({ id }) => id === "separation");
  if (!model || !evaluated || !separation || campaign.characterisation !== undefined)
    throw new NoCharacterisationError("The campaign has no separation of its own that could be handed on.");
  const { standing } = separation;
  if (standing !== "sound" && standing !== "untested")
    throw new NoCharacterisationError(`The separation is ${standing}: ${separation.reason}.`);
  const { channels, typed } = evaluated;
  const coefficient = COEFFICIENTS.find((id) => nodes.has(id));
  const ids = [...weightIds(channels), ...(coefficient ? [coefficient] : [])];
  const own = ids.map((id) => nodes.get(id)!);
  const known = own.map((node) => propagate(model, node));
  if (known.some(({ typeAUnknown }) => typeAUnknown))
    throw new NoCharacterisationError("Without repeats nobody knows the uncertainty of the separation.");
  const times = [...(typed.separation?.readings ?? []), ...(typed.calibration?.readings ?? [])].flatMap(
    ({ time }) => time ?? [],
  );
  const day = date ?? (times.length > 0 ? dayOf(times.reduce((a, b) => Math.max(a, b))) : undefined);
  if (day === undefined)
    throw new NoCharacterisationError(
      "The readings have no times: say on which day they were taken (--date YYYY-MM-DD on the command line).",
    );
  const dof = known.reduce((least, one) => Math.min(least, one.dof), Number.POSITIVE_INFINITY);
  const verified = nodes.get("separation.verified-stem-load");
  const { detector } = campaign.descriptor.alcedo;
  const inputs = new Set(known.flatMap(({ dependent }) => dependent.map(({ key }) => key)));
  return {
    version: 1,
    campaign: result.campaign,
    input: result.input,
    alcedo: result.alcedo,
    date: day,
    ...(detector.accumulatedDose_Gy !== undefined && { accumulatedDose_Gy: detector.accumulatedDose_Gy }),
    standing,
    identity: identityOf(campaign.descriptor),
    channels: [...channels],
    signalUnit: detector.signalUnit,
    quantities: own.map((node, i) => ({ id: ids[i]!, unit: node.unit.symbol, value: node.value })),
    covariance: quantityCovariance(evaluation, ids)!.map((row) => [...row]),
    dof: Number.isFinite(dof) ? dof : null,
    inputs: [...inputs],
    verifiedStemLoad: verified ? verified.value : null,
  };
}
