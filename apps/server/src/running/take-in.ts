import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { type Archive, keepCampaign, keepEvaluation, listCampaigns } from "@alcedo-dosimetry/archive";
import { evaluate, isInvented } from "@alcedo-dosimetry/campaign";
import { memoryFolder, readFolder } from "@alcedo-dosimetry/exchange";

/** What became of a campaign folder that was to be taken in. */
export interface TakenIn {
  /** Whether the archive was empty and took it. */
  readonly kept: boolean;
  /** Whether all that the archive holds now is invented. */
  readonly simulated: boolean;
}

/**
 * Takes a campaign folder into an archive that holds nothing yet, and evaluates it there; one that holds something is left as
 * it is.
 *
 * @param folder plain files, `datapackage.json` among them; the program's own examples, not what a stranger sends
 */
export async function takeIn(archive: Archive, folder: string): Promise<TakenIn> {
  const { campaign, findings } = readFolder(memoryFolder(folder, filesIn(folder)));
  if (campaign === undefined)
    throw new Error(`${folder} is no campaign: ${findings[0]?.message ?? "nothing is there"}`);
  const [there, second] = await listCampaigns(archive, { limit: 2 });
  const { name } = campaign.descriptor;
  const simulated = isInvented(campaign.descriptor);
  if (there !== undefined) return { kept: false, simulated: simulated && there.id === name && second === undefined };
  const kept = await keepCampaign(archive, campaign, "taken in as an example");
  await keepEvaluation(archive, kept.id, evaluate(kept.campaign).result, "evaluated as it came");
  return { kept: true, simulated };
}

function filesIn(folder: string): Map<string, Uint8Array> {
  const names = readdirSync(folder).filter((name) => statSync(join(folder, name)).isFile());
  return new Map(names.map((name) => [name, new Uint8Array(readFileSync(join(folder, name)))]));
}
