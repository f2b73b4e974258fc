import { addCharacterisation } from "@alcedo-dosimetry/dosimetry";
import { type ChainRun, stopAll } from "./chain-run.ts";
import type { Characterisation } from "./characterisation.ts";
import { ageOf } from "./characterisation-age.ts";
import { compareIdentities, identityOf } from "./characterisation-identity.ts";
import { characterisationOfAnother } from "./findings/characterisation-of-another.ts";
import { weightIds } from "./read-characterisation.ts";

/** Takes the weights, and the coefficient where it is known, from another day. */
export function runCharacterisation(run: ChainRun, stored: Characterisation, asOf: string | undefined): void {
  const { chain, campaign, channels, typed, assumptions } = run;
  const { detector } = campaign.descriptor.alcedo;
  const { differences, unstated } = compareIdentities(stored.identity, identityOf(campaign.descriptor));
  const lists = [
    { what: "channels", characterised: stored.channels.join(", "), here: channels.join(", ") },
    { what: "signal unit", characterised: stored.signalUnit, here: detector.signalUnit },
  ].filter(({ characterised, here }) => characterised !== here);
  if (differences.length + lists.length > 0) {
    stopAll(run, characterisationOfAnother([...differences, ...lists]));
    return;
  }
  const weights = weightIds(channels).length;
  const values = stored.quantities.map(({ value }) => value);
  const coefficient = values[weights];
  const added = addCharacterisation(chain, {
    weights: values.slice(0, weights),
    covariance: stored.covariance,
    ...(coefficient !== undefined && { coefficient }),
    ...(stored.dof !== null && { dof: stored.dof }),
    ...(stored.verifiedStemLoad !== null && { verifiedStemLoad: stored.verifiedStemLoad }),
  });
  run.characterisation = { stored, added, unstated, age: ageOf(stored, campaign, typed, assumptions.values, asOf) };
  run.weights = added;
  if (added.coefficient) run.coefficient = added.coefficient;
  if (added.verifiedStemLoad)
    run.range = {
      highest: { name: `the characterisation of ${stored.date}`, load: added.verifiedStemLoad },
      reachesMiddle: stored.standing === "sound",
    };
}
