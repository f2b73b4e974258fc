import type { Transaction } from "kysely";
import type { Archive } from "./archive.ts";
import { inWords } from "./archive-error.ts";
import type { AuditFault } from "./audit-fault.ts";
import { derivedFaults } from "./derived-faults.ts";
import type { Schema } from "./schema.ts";
import { FIRST_SEAL, sealOf } from "./seal.ts";

/** A revision and its seal, noted outside the archive: on a signed page, say. */
export interface KnownSeal {
  readonly revision: number;
  readonly seal: string;
}

/** What an audit found; without faults nothing was altered since the seals that were known outside. */
export interface Audit {
  readonly revisions: number;
  /** The last seal: noted elsewhere, it shows later that nothing up to here was altered. */
  readonly seal: string;
  readonly faults: readonly AuditFault[];
}

/** Revisions that are read at a time. */
const PAGE = 200;

/**
 * Checks that nothing was altered: how the database holds the tables, the chain of seals from the first revision to the
 * last, that the tables for lists are what the revisions make them, and that each signature is that of the person it names. Who can rewrite the whole archive can seal it anew,
 * or cut off its end: against that helps only a seal that is known outside.
 */
export async function audit(archive: Archive, known: readonly KnownSeal[] = []): Promise<Audit> {
  try {
    const stored = (await archive.storageFaults()).map((says): AuditFault => ({ says }));
    return await archive.db.transaction().execute(async (tx) => {
      const chain = await followChain(tx, known);
      const faults = [...stored, ...chain.faults];
      // what follows from altered revisions says nothing
      if (faults.length === 0) faults.push(...(await derivedFaults(tx)));
      return { revisions: chain.revisions, seal: chain.seal, faults };
    });
  } catch (error) {
    throw inWords(error);
  }
}

async function followChain(tx: Transaction<Schema>, known: readonly KnownSeal[]): Promise<Audit> {
  const expected = new Map(known.map(({ revision, seal }) => [revision, seal]));
  let [seq, seal] = [0, FIRST_SEAL];
  const stop = (says: string): Audit => ({ revisions: seq, seal, faults: [{ revision: seq + 1, says }] });
  for (;;) {
    const rows = await tx
      .selectFrom("revision")
      .selectAll()
      .where("seq", ">", seq)
      .orderBy("seq")
      .limit(PAGE)
      .execute();
    for (const { seal: stated, ...revision } of rows) {
      if (revision.seq !== seq + 1) return stop(`revision ${seq + 1} is missing; the next is ${revision.seq}.`);
      if (stated !== computed(seal, revision)) {
        return stop(`revision ${seq + 1} (${revision.kind} ${revision.subject}) does not fit its seal.`);
      }
      if ((expected.get(revision.seq) ?? stated) !== stated) {
        return stop(`revision ${seq + 1} has another seal than the one that is known.`);
      }
      [seq, seal] = [revision.seq, stated];
    }
    if (rows.length === 0) break;
  }
  const cut = [...expected.keys()].filter((revision) => revision > seq).sort((a, b) => a - b);
  if (cut.length > 0) return stop(`revisions ${seq + 1} to ${cut.at(-1)} are missing: the seal of ${cut[0]} is known.`);
  return { revisions: seq, seal, faults: [] };
}

/** The seal that a row should have; none where it holds what cannot be sealed. */
function computed(previous: string, revision: Parameters<typeof sealOf>[1]): string | undefined {
  try {
    return sealOf(previous, revision);
  } catch {
    return undefined; // no seal is like this one: the caller reports the row
  }
}
