/** The invented campaign measured on another day: its separation and calibration come as a characterisation. */
import type { Characterisation } from "../characterisation.ts";
import { characterisationOf } from "../characterisation-of.ts";
import type { Descriptor } from "../descriptor.ts";
import { evaluate } from "../evaluate.ts";
import { type MadeUpTables, madeUpCampaign } from "./made-up-campaign.ts";

/** What is changed in a characterisation, and in the campaign that uses it. */
export type OtherDay = (
  characterisation: Characterisation,
  descriptor: Descriptor,
  tables: Required<MadeUpTables>,
) => void;

/** What the invented campaign's own separation and calibration found. */
function madeUpCharacterisation(): Characterisation {
  const campaign = madeUpCampaign();
  return characterisationOf(campaign, evaluate(campaign));
}

/** A change of the invented campaign: the characterisation in place of its separation, and of its calibration. */
export function onAnotherDay(
  spoil: OtherDay = () => undefined,
  calibration: "stored" | "own" = "stored",
): NonNullable<Parameters<typeof madeUpCampaign>[0]> {
  return (tables, descriptor, more) => {
    const own = madeUpCharacterisation();
    spoil(own, descriptor, tables);
    more.characterisation = own;
    delete (tables as MadeUpTables).separation;
    if (calibration === "stored") delete (tables as MadeUpTables).calibration;
  };
}
