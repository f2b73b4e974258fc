import type { IdentityDifference } from "../characterisation-identity.ts";
import type { Finding } from "../finding.ts";
import { list } from "./in-words.ts";

/** A characterisation that holds for another fibre, reader, beam or field than those of the campaign. */
export function characterisationOfAnother(differences: readonly IdentityDifference[]): Finding {
  const said = differences.map(({ what, characterised, here }) => `${what} ${characterised}, here ${here}`);
  return {
    level: "error",
    code: "characterisation-of-another",
    message: `The characterisation holds for another set-up: ${said.join("; ")}.`,
    effect: "A stem ratio belongs to one fibre, reader, channel set-up, beam and magnetic field; no result is given.",
    remedy: `Bring the characterisation that was made with this campaign's ${list(differences.map(({ what }) => what))}, or measure the separation anew.`,
    where: { series: "characterisation" },
    facts: { differences: differences.length },
  };
}
