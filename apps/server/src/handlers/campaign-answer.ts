import { type Archive, type KeptCampaign, signaturesOf } from "@alcedo-dosimetry/archive";
import type { LiveEvents } from "../live-events.ts";

/** A campaign as an answer has it, with the signatures under it. */
export async function campaignAnswer(archive: Archive, { id, revision, campaign }: KeptCampaign) {
  return { id, revision, campaign, signed: await signaturesOf(archive, id) };
}

/** Tells the pages that listen of a campaign's new revision, made by whoever holds the archive. */
export function tellOf(live: LiveEvents, { who }: Archive, { id, revision }: KeptCampaign, why: string): void {
  live.tell({ campaign: { id, revision, who, why } });
}
