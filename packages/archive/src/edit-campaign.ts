import type { Edit } from "@alcedo-dosimetry/campaign";
import type { Archive } from "./archive.ts";
import type { KeptCampaign } from "./campaign-at.ts";
import { afterChange, type CampaignChange } from "./campaign-change.ts";
import { inTransaction } from "./in-transaction.ts";
import { loadLatest } from "./keep-campaign.ts";
import { keepChange, madeBefore } from "./keep-change.ts";

/** Edits to be made to a campaign. */
export interface CampaignEdits {
  /** The revision that they were made to. */
  readonly after: number;
  readonly edits: readonly Edit[];
  readonly why: string;
  /** Names the change: sent again under the same key it is answered as the first time, and made once. */
  readonly key?: string;
}

/**
 * Edits a campaign: a new revision that holds the edits alone. Edits that change nothing make no revision.
 *
 * @throws ArchiveError (`conflict`, with the latest `revision`) when `after` is not the latest any more; (`invalid`) when an
 *   edit does not fit; (`key-reused`) when the key was that of another change; nothing is kept then
 */
export async function editCampaign(
  archive: Archive,
  id: string,
  { after, edits, why, key }: CampaignEdits,
): Promise<KeptCampaign> {
  const change: CampaignChange = { edits, ...(key !== undefined && { key }) };
  return inTransaction(archive, async (tx) => {
    const made = await madeBefore(tx, archive, id, change, why);
    if (made !== undefined) return made;
    const now = await loadLatest(tx, id, after);
    if (JSON.stringify(afterChange(now.campaign, change)) === JSON.stringify(now.campaign)) return now;
    return keepChange(tx, archive, now, change, why);
  });
}
