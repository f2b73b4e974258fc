import type { Transaction } from "kysely";
import { appendRevision } from "./append-revision.ts";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { type KeptCampaign, loadRevision } from "./campaign-at.ts";
import { afterChange, type CampaignChange } from "./campaign-change.ts";
import { registerIdentities } from "./identities.ts";
import { keepEntry } from "./keep-campaign.ts";
import type { Schema } from "./schema.ts";

/** Small changes after a whole document; the next holds the whole again, so that no campaign is read from more than these. */
const SMALL_CHANGES = 200;

/** Makes a small change to a campaign as it is now, and keeps its key. */
export async function keepChange(
  tx: Transaction<Schema>,
  archive: Archive,
  { id, base, campaign: before }: KeptCampaign,
  change: CampaignChange,
  why: string,
): Promise<KeptCampaign> {
  const body = JSON.parse(JSON.stringify(change)) as CampaignChange;
  const campaign = afterChange(before, body);
  const isWhole = (await smallChanges(tx, id, base)) >= SMALL_CHANGES;
  const kept = isWhole ? { body: { ...body, campaign } } : { body, base };
  const { seq } = await appendRevision(tx, archive, { kind: "campaign", subject: id, why, ...kept });
  await keepEntry(tx, id, seq, campaign);
  if (campaign.descriptor !== before.descriptor) await registerIdentities(tx, archive, id, campaign);
  const key = keyOf(body);
  if (key !== undefined) await tx.insertInto("change_key").values({ key, seq }).execute();
  return { id, revision: seq, base: isWhole ? seq : base, campaign };
}

async function smallChanges(tx: Transaction<Schema>, id: string, base: number): Promise<number> {
  const { rows } = await tx
    .selectFrom("revision")
    .select((of) => of.fn.countAll().as("rows"))
    .where("kind", "=", "campaign")
    .where("subject", "=", id)
    .where("seq", ">", base)
    .executeTakeFirstOrThrow();
  return Number(rows);
}

/** The key that a change was sent under. */
export function keyOf(change: CampaignChange): string | undefined {
  return "key" in change ? change.key : undefined;
}

/**
 * The campaign as a change left it that was sent under the same key before: whoever did not hear the answer may ask again.
 *
 * @throws ArchiveError (`key-reused`) when the key was that of another change, campaign or person
 */
export async function madeBefore(
  tx: Transaction<Schema>,
  { who }: Archive,
  id: string,
  change: CampaignChange,
  why: string,
): Promise<KeptCampaign | undefined> {
  const key = keyOf(change);
  if (key === undefined) return undefined;
  const made = await tx
    .selectFrom("change_key")
    .innerJoin("revision", "revision.seq", "change_key.seq")
    .select(["revision.seq", "revision.subject", "revision.who", "revision.why", "revision.body"])
    .where("change_key.key", "=", key)
    .executeTakeFirst();
  if (made === undefined) return undefined;
  const { campaign: _whole, ...asked } = JSON.parse(made.body) as Record<string, unknown>;
  const isSame = JSON.stringify(asked) === JSON.stringify(change);
  if (made.subject === id && made.who === who && made.why === why && isSame) {
    return loadRevision(tx, id, made.seq);
  }
  throw new ArchiveError(
    "key-reused",
    `The key ${key} is that of another change, revision ${made.seq}.`,
    "Give each change a key of its own.",
  );
}
