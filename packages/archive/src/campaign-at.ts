import type { Campaign } from "@alcedo-dosimetry/campaign";
import type { Transaction } from "kysely";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { afterChange, type CampaignChange } from "./campaign-change.ts";
import { inTransaction } from "./in-transaction.ts";
import type { Schema } from "./schema.ts";

/** A campaign as one of its revisions left it. */
export interface KeptCampaign {
  readonly id: string;
  /** The number of that revision. */
  readonly revision: number;
  /** The revision with the whole document that it builds on; its own number where it holds the document. */
  readonly base: number;
  readonly campaign: Campaign;
}

/**
 * A campaign as it is now, or as it was after one of its revisions.
 *
 * @param revision the number of one of its revisions; the latest where it is not given
 * @throws ArchiveError (`unknown`) when there is no such campaign, or the revision is none of it
 */
export async function campaignAt(archive: Archive, id: string, revision?: number): Promise<KeptCampaign> {
  return inTransaction(archive, async (tx) => loadCampaign(tx, id, revision));
}

/** As {@link campaignAt}, inside a transaction. */
export async function loadCampaign(tx: Transaction<Schema>, id: string, revision?: number): Promise<KeptCampaign> {
  const entry = await tx.selectFrom("campaign").select("latest").where("id", "=", id).executeTakeFirst();
  if (entry === undefined) {
    throw new ArchiveError("unknown", `The archive keeps no campaign ${id}.`, "Look its id up in the list.");
  }
  return loadRevision(tx, id, revision ?? entry.latest);
}

/** A campaign as a revision of it left it, out of the record alone. */
export async function loadRevision(tx: Transaction<Schema>, id: string, revision: number): Promise<KeptCampaign> {
  const own = tx.selectFrom("revision").where("kind", "=", "campaign").where("subject", "=", id);
  const last = await own.select("base").where("seq", "=", revision).executeTakeFirst();
  if (last === undefined) {
    throw new ArchiveError(
      "unknown",
      `Revision ${revision} is none of the campaign ${id}.`,
      "Look the revisions up in its history.",
    );
  }
  const base = last.base ?? revision;
  const bodies = await own
    .select("body")
    .where("seq", ">=", base)
    .where("seq", "<=", revision)
    .orderBy("seq")
    .execute();
  return { id, revision, base, campaign: replay(bodies.map(({ body }) => JSON.parse(body) as CampaignChange)) };
}

/** The campaign after changes, the first of which holds the whole document. */
function replay(changes: readonly CampaignChange[]): Campaign {
  const campaign = changes.reduce<Campaign | undefined>(afterChange, undefined);
  if (campaign === undefined) throw new Error("a campaign begins with a whole document");
  return campaign;
}
