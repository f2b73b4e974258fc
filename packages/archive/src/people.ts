import type { Transaction } from "kysely";
import { appendRevision } from "./append-revision.ts";
import type { Archive } from "./archive.ts";
import { ArchiveError } from "./archive-error.ts";
import { inTransaction } from "./in-transaction.ts";
import type { Person } from "./person.ts";
import type { PersonTable, Schema } from "./schema.ts";

/** A person, and the revision that left them so. */
export interface KeptPerson {
  readonly revision: number;
  readonly person: Person;
}

/** Everybody who is or was known to the archive, by id, without keys. */
export async function people(archive: Archive): Promise<{ readonly id: string; readonly name: string }[]> {
  return inTransaction(archive, async (tx) => tx.selectFrom("person").select(["id", "name"]).orderBy("id").execute());
}

/** A person as they are now; undefined where the archive knows none of this id. */
export async function personAt(archive: Archive, id: string): Promise<KeptPerson | undefined> {
  return inTransaction(archive, async (tx) => loadPerson(tx, id));
}

/** As {@link personAt}, inside a transaction. */
export async function loadPerson(tx: Transaction<Schema>, id: string): Promise<KeptPerson | undefined> {
  const row = await tx
    .selectFrom("person")
    .innerJoin("revision", "revision.seq", "person.latest")
    .select(["revision.seq", "revision.body"])
    .where("person.id", "=", id)
    .executeTakeFirst();
  return row && { revision: row.seq, person: JSON.parse(row.body) as Person };
}

/**
 * Keeps a person whom the archive does not know yet.
 *
 * @throws ArchiveError (`exists`) when the id is taken
 */
export async function keepPerson(archive: Archive, person: Person, why: string): Promise<KeptPerson> {
  requirePerson(person);
  return inTransaction(archive, async (tx) => {
    const taken = await loadPerson(tx, person.id);
    if (taken !== undefined) {
      throw new ArchiveError("exists", `The archive knows a person ${person.id} already.`, "Choose another id.");
    }
    return append(tx, archive, person, why);
  });
}

/**
 * Keeps a person with another passphrase or name, as a new revision. The key stays: signatures are known by it.
 *
 * @param after the revision that was changed
 * @throws ArchiveError (`conflict`) when there is a later one; (`invalid`) where the public key is another
 */
export async function revisePerson(
  archive: Archive,
  person: Person,
  { after, why }: { readonly after: number; readonly why: string },
): Promise<KeptPerson> {
  requirePerson(person);
  return inTransaction(archive, async (tx) => {
    const now = await loadPerson(tx, person.id);
    if (now === undefined) {
      throw new ArchiveError("unknown", `The archive knows no person ${person.id}.`, "Look the id up in the list.");
    }
    if (now.revision !== after) {
      throw new ArchiveError(
        "conflict",
        `The person ${person.id} is at revision ${now.revision}, not ${after}.`,
        "Open it again and make the change there.",
        { revision: now.revision },
      );
    }
    if (now.person.publicKey !== person.publicKey) {
      throw new ArchiveError(
        "invalid",
        `The key of ${person.id} cannot be replaced: what was signed with it would not be theirs any more.`,
        "Change the passphrase, or make another person.",
      );
    }
    return append(tx, archive, person, why);
  });
}

async function append(tx: Transaction<Schema>, archive: Archive, person: Person, why: string): Promise<KeptPerson> {
  const { seq } = await appendRevision(tx, archive, { kind: "person", subject: person.id, why, body: person });
  const { id, ...values } = personEntry(person, seq);
  await tx
    .insertInto("person")
    .values({ id, ...values })
    .onConflict((row) => row.column("id").doUpdateSet(values))
    .execute();
  return { revision: seq, person };
}

/** The row of a person in the table that lists read. */
export function personEntry({ id, name, publicKey }: Person, latest: number): PersonTable {
  return { id, name, public_key: publicKey, latest };
}

function requirePerson({ id, name, publicKey }: Person) {
  if (id.trim() !== "" && name.trim() !== "" && /^[0-9a-f]{64}$/.test(publicKey)) return;
  throw new ArchiveError(
    "invalid",
    "A person has an id, a name, and a public key of 64 hexadecimal digits.",
    "State all three.",
  );
}
