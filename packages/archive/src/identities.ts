import type { Campaign } from "@alcedo-dosimetry/campaign";
import type { Transaction } from "kysely";
import { appendRevision } from "./append-revision.ts";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { inTransaction } from "./in-transaction.ts";
import type { Schema } from "./schema.ts";

/** What campaigns are measured with and in: kept by the id that campaigns give. */
export type IdentityKind = "fibre" | "beam";

/** A fibre or a beam as its latest revision describes it. */
export interface Identity {
  readonly id: string;
  readonly revision: number;
  /** What is known of it, as JSON: a campaign's `detector` or `beam` to begin with. */
  readonly description: Readonly<Record<string, unknown>>;
}

/** All fibres, or all beams, by id. */
export async function identities(archive: Archive, kind: IdentityKind): Promise<Identity[]> {
  return inTransaction(archive, async (tx) => {
    const latest = tx
      .selectFrom("revision")
      .select((of) => of.fn.max("seq").as("seq"))
      .where("kind", "=", kind)
      .groupBy("subject");
    const rows = await tx
      .selectFrom("revision")
      .select(["seq", "subject", "body"])
      .where("seq", "in", latest)
      .orderBy("subject")
      .execute();
    return rows.map(({ seq, subject, body }) => ({
      id: subject,
      revision: seq,
      description: JSON.parse(body) as Identity["description"],
    }));
  });
}

/**
 * Describes a fibre or a beam anew.
 *
 * @param after the revision that was changed; 0 for one that the archive does not know yet
 * @throws ArchiveError (`conflict`) when there is a later one
 */
export async function describeIdentity(
  archive: Archive,
  kind: IdentityKind,
  id: string,
  { description, after, why }: { readonly description: Identity["description"]; after: number; why: string },
): Promise<Identity> {
  return inTransaction(archive, async (tx) => {
    const now = await latestRevision(tx, kind, id);
    if (now !== after) {
      throw new ArchiveError(
        "conflict",
        `The ${kind} ${id} is at revision ${now}, not ${after}.`,
        "Open it again and make the change there.",
      );
    }
    const { seq } = await appendRevision(tx, archive, { kind, subject: id, why, body: description });
    return { id, revision: seq, description };
  });
}

/** Describes a campaign's fibre and beam as the campaign does, where the archive does not know them yet. */
export async function registerIdentities(tx: Transaction<Schema>, archive: Archive, id: string, campaign: Campaign) {
  const { detector, beam } = campaign.descriptor.alcedo;
  const why = `first seen in the campaign ${id}`;
  for (const [kind, description] of [["fibre", detector] as const, ["beam", beam] as const]) {
    if ((await latestRevision(tx, kind, description.id)) > 0) continue;
    await appendRevision(tx, archive, { kind, subject: description.id, why, body: description });
  }
}

async function latestRevision(tx: Transaction<Schema>, kind: IdentityKind, id: string): Promise<number> {
  const row = await tx
    .selectFrom("revision")
    .select("seq")
    .where("kind", "=", kind)
    .where("subject", "=", id)
    .orderBy("seq", "desc")
    .limit(1)
    .executeTakeFirst();
  return row?.seq ?? 0;
}
