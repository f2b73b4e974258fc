import type { Campaign } from "@alcedo-dosimetry/campaign";
import type { Transaction } from "kysely";
import { appendRevision } from "./append-revision.ts";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { type KeptCampaign, loadCampaign } from "./campaign-at.ts";
import type { CampaignChange } from "./campaign-change.ts";
import { campaignEntry } from "./campaign-entry.ts";
import { registerIdentities } from "./identities.ts";
import { inTransaction } from "./in-transaction.ts";
import type { Schema } from "./schema.ts";

/**
 * Keeps a campaign that the archive does not have yet. Its id is the name in its descriptor, for good: the name may change
 * later. Fibre and beam are registered with it where they are new.
 *
 * @throws ArchiveError (`exists`) when the id is taken
 */
export async function keepCampaign(archive: Archive, campaign: Campaign, why: string): Promise<KeptCampaign> {
  const id = campaign.descriptor.name;
  return inTransaction(archive, async (tx) => {
    const taken = await tx.selectFrom("campaign").select("latest").where("id", "=", id).executeTakeFirst();
    if (taken !== undefined) {
      throw new ArchiveError(
        "exists",
        `The archive keeps a campaign ${id} already, at revision ${taken.latest}.`,
        "Revise that one, or give the new one another name.",
      );
    }
    return keepDocument(tx, archive, id, { campaign }, why);
  });
}

/**
 * Keeps a campaign as it is now, as a new revision of one that was kept. What is the same, file names and the order of
 * keys included, makes no revision.
 *
 * @param after the revision that was changed: where it is not the latest any more, somebody else was faster
 * @throws ArchiveError (`conflict`) when there are later revisions; (`unknown`) when there is no such campaign
 */
export async function reviseCampaign(
  archive: Archive,
  id: string,
  campaign: Campaign,
  { after, why }: { readonly after: number; readonly why: string },
): Promise<KeptCampaign> {
  return inTransaction(archive, async (tx) => {
    const now = await loadLatest(tx, id, after);
    if (JSON.stringify(now.campaign) === JSON.stringify(campaign)) return now;
    return keepDocument(tx, archive, id, { campaign }, why);
  });
}

/**
 * Takes the latest change of a campaign back: a new revision with the document as it was before. Taken back twice, the
 * change is there again.
 *
 * @param after the revision to take back, which must be the latest
 * @throws ArchiveError (`invalid`) when it is the campaign's first, else as {@link reviseCampaign}
 */
export async function undo(
  archive: Archive,
  id: string,
  { after, why }: { readonly after: number; readonly why: string },
): Promise<KeptCampaign> {
  return inTransaction(archive, async (tx) => {
    await loadLatest(tx, id, after);
    const before = await tx
      .selectFrom("revision")
      .select("seq")
      .where("kind", "=", "campaign")
      .where("subject", "=", id)
      .where("seq", "<", after)
      .orderBy("seq", "desc")
      .limit(1)
      .executeTakeFirst();
    const as = before?.seq;
    if (as === undefined) {
      throw new ArchiveError(
        "invalid",
        `Revision ${after} is the first of the campaign ${id}; there is nothing before it.`,
        "A campaign that was kept stays kept.",
      );
    }
    const { campaign } = await loadCampaign(tx, id, as);
    return keepDocument(tx, archive, id, { campaign, as }, why);
  });
}

/** As {@link loadCampaign}, where nobody has changed it since a revision. */
export async function loadLatest(tx: Transaction<Schema>, id: string, after: number): Promise<KeptCampaign> {
  const now = await loadCampaign(tx, id);
  if (now.revision === after) return now;
  throw new ArchiveError(
    "conflict",
    `The campaign ${id} has changed since revision ${after}: it is at revision ${now.revision} now.`,
    "Open it again and make the change there.",
    { revision: now.revision },
  );
}

async function keepDocument(
  tx: Transaction<Schema>,
  archive: Archive,
  id: string,
  change: Extract<CampaignChange, { campaign: Campaign }>,
  why: string,
): Promise<KeptCampaign> {
  const { campaign } = change;
  const body = JSON.parse(JSON.stringify(change)) as typeof change;
  const revision = await appendRevision(tx, archive, { kind: "campaign", subject: id, why, body });
  await keepEntry(tx, id, revision.seq, body.campaign);
  await registerIdentities(tx, archive, id, campaign);
  return { id, revision: revision.seq, base: revision.seq, campaign: body.campaign };
}

/** Brings what lists and searches read up to a campaign's new revision. */
export async function keepEntry(tx: Transaction<Schema>, id: string, revision: number, campaign: Campaign) {
  const { id: _id, ...values } = campaignEntry(id, revision, campaign);
  await tx
    .insertInto("campaign")
    .values({ id, ...values })
    .onConflict((row) => row.column("id").doUpdateSet(values))
    .execute();
}
