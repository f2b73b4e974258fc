import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { type KeptCampaign, loadCampaign } from "./campaign-at.ts";
import type { CampaignChange } from "./campaign-change.ts";
import { inTransaction } from "./in-transaction.ts";
import { keepChange, madeBefore } from "./keep-change.ts";

/**
 * Adds one reading to a table, behind the others. When the promise is fulfilled the reading is on the disk: only then may
 * it be acknowledged.
 *
 * @param cells texts by column, `reading` among them; a column that the table lacks is added to it
 * @throws ArchiveError (`invalid`) when there is no such table, or the reading is there already; (`key-reused`) when the key
 *   was that of another change; nothing is kept then
 */
export async function addReading(
  archive: Archive,
  id: string,
  { table, cells, why, key }: NewReading,
): Promise<KeptCampaign> {
  return change(archive, id, { reading: { table, cells }, ...(key !== undefined && { key }) }, why);
}

/** A reading to be added. */
export interface NewReading {
  readonly table: string;
  readonly cells: Readonly<Record<string, string>>;
  readonly why: string;
  /** Names the change: sent again under the same key it is answered as the first time, and made once. */
  readonly key?: string;
}

/**
 * Leaves a reading out of the evaluation. It stays where it is, with the reason; who left it out and when stands in the
 * revision.
 *
 * @throws ArchiveError (`invalid`) when there is no such reading, or no reason
 */
export async function excludeReading(
  archive: Archive,
  id: string,
  { table, reading, reason }: { readonly table: string; readonly reading: string; readonly reason: string },
): Promise<KeptCampaign> {
  if (reason.trim() === "") {
    throw new ArchiveError("invalid", `No reason is given to leave out reading ${reading}.`, "Say why.");
  }
  return change(archive, id, { cell: { table, reading, column: "exclude", text: reason } }, reason);
}

/** Takes a reading that was left out back into the evaluation. */
export async function includeReading(
  archive: Archive,
  id: string,
  { table, reading, why }: { readonly table: string; readonly reading: string; readonly why: string },
): Promise<KeptCampaign> {
  return change(archive, id, { cell: { table, reading, column: "exclude", text: "" } }, why);
}

async function change(archive: Archive, id: string, body: CampaignChange, why: string): Promise<KeptCampaign> {
  return inTransaction(archive, async (tx) => {
    const made = await madeBefore(tx, archive, id, body, why);
    if (made !== undefined) return made;
    const now = await loadCampaign(tx, id);
    return keepChange(tx, archive, now, body, why);
  });
}
