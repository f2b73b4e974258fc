import type { Transaction } from "kysely";
import type { AuditFault } from "./audit-fault.ts";
import { loadRevision } from "./campaign-at.ts";
import type { CampaignChange } from "./campaign-change.ts";
import { campaignEntry } from "./campaign-entry.ts";
import { keyOf } from "./keep-change.ts";
import { type EvaluationBody, evaluationEntry } from "./keep-evaluation.ts";
import { signatureEntry } from "./keep-signature.ts";
import { MIGRATIONS } from "./migrations/migrations.ts";
import { personEntry } from "./people.ts";
import type { Person } from "./person.ts";
import type { Schema } from "./schema.ts";
import { signatureFaults } from "./signature-faults.ts";

/** A table that follows from the revisions. */
type Derived = "campaign" | "evaluation" | "change_key" | "person" | "signature";

/** Bodies that are read at a time. */
const PAGE = 200;

/**
 * What in the tables that follow from the revisions is not as they make it. Whoever sealed a record anew could not sign it
 * anew: each signature is looked at too.
 */
export async function derivedFaults(tx: Transaction<Schema>): Promise<AuditFault[]> {
  const faults = await versionFaults(tx);
  const counts: Record<Derived, number> = { campaign: 0, evaluation: 0, change_key: 0, person: 0, signature: 0 };
  const compare = (
    table: Derived,
    key: string | number,
    revision: number,
    stored: object | undefined,
    should: object,
  ) => {
    counts[table] += 1;
    if (stored !== undefined && isSame(stored, should)) return;
    const says = `the row ${key} of the table ${table} is not what revision ${revision} makes it.`;
    faults.push({ revision, says });
  };

  for (const { subject, seq } of await latestOf(tx, "campaign")) {
    const stored = await tx.selectFrom("campaign").selectAll().where("id", "=", subject).executeTakeFirst();
    const { campaign } = await loadRevision(tx, subject, seq);
    compare("campaign", subject, seq, stored, campaignEntry(subject, seq, campaign));
  }
  for (const { subject, seq } of await latestOf(tx, "person")) {
    const stored = await tx.selectFrom("person").selectAll().where("id", "=", subject).executeTakeFirst();
    const person = JSON.parse(await bodyOf(tx, seq)) as Person;
    compare("person", subject, seq, stored, personEntry(person, seq));
    if (person.id !== subject)
      faults.push({ revision: seq, says: `revision ${seq} (person ${subject}) is of ${person.id}.` });
  }
  for await (const { seq, subject, body } of revisionsOf(tx, "evaluation")) {
    const stored = await tx.selectFrom("evaluation").selectAll().where("seq", "=", seq).executeTakeFirst();
    compare("evaluation", seq, seq, stored, evaluationEntry(subject, seq, JSON.parse(body) as EvaluationBody));
  }
  for await (const { seq, body } of revisionsOf(tx, "campaign", '%"key":%')) {
    const key = keyOf(JSON.parse(body) as CampaignChange);
    if (key === undefined) continue;
    const stored = await tx.selectFrom("change_key").selectAll().where("key", "=", key).executeTakeFirst();
    compare("change_key", key, seq, stored, { key, seq });
  }
  for await (const revision of revisionsOf(tx, "signature")) {
    const stored = await tx.selectFrom("signature").selectAll().where("seq", "=", revision.seq).executeTakeFirst();
    const found = await signatureFaults(tx, revision);
    compare(
      "signature",
      revision.seq,
      revision.seq,
      stored,
      signatureEntry(found.body, revision.seq, found.evaluation),
    );
    faults.push(...found.faults.map((says) => ({ revision: revision.seq, says })));
  }

  for (const table of Object.keys(counts) as Derived[]) {
    const { rows } = await tx
      .selectFrom(table)
      .select((of) => of.fn.countAll().as("rows"))
      .executeTakeFirstOrThrow();
    if (Number(rows) !== counts[table])
      faults.push({ says: `the table ${table} has ${rows} rows; the revisions make ${counts[table]}.` });
  }
  return faults;
}

async function versionFaults(tx: Transaction<Schema>): Promise<AuditFault[]> {
  const versions = await tx.selectFrom("schema_version").selectAll().orderBy("version").execute();
  return MIGRATIONS.filter(({ version, name }) => versions.find((row) => row.version === version)?.name !== name).map(
    ({ version, name }) => ({ says: `the table schema_version does not name version ${version}, ${name}.` }),
  );
}

async function latestOf(tx: Transaction<Schema>, kind: "campaign" | "person") {
  const rows = await tx
    .selectFrom("revision")
    .select(["subject", (of) => of.fn.max("seq").as("latest")])
    .where("kind", "=", kind)
    .groupBy("subject")
    .execute();
  return rows.map(({ subject, latest }) => ({ subject, seq: latest }));
}

async function bodyOf(tx: Transaction<Schema>, seq: number): Promise<string> {
  return (await tx.selectFrom("revision").select("body").where("seq", "=", seq).executeTakeFirstOrThrow()).body;
}

/** The revisions of a kind, first to last, some at a time; those whose bodies are like a pattern, where one is given. */
async function* revisionsOf(tx: Transaction<Schema>, kind: string, like?: string) {
  for (let last = 0; ; ) {
    let query = tx.selectFrom("revision").select(["seq", "subject", "body"]).where("kind", "=", kind);
    if (like !== undefined) query = query.where("body", "like", like);
    const rows = await query.where("seq", ">", last).orderBy("seq").limit(PAGE).execute();
    if (rows.length === 0) return;
    yield* rows;
    last = rows.at(-1)!.seq;
  }
}

function isSame(stored: object, should: object): boolean {
  const values = new Map<string, unknown>(Object.entries(stored));
  return Object.entries(should).every(([column, value]) => values.get(column) === value);
}
