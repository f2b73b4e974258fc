import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Kysely } from "kysely";
import { expect, test } from "vitest";
import { audit } from "../audit.ts";
import { campaignAt } from "../campaign-at.ts";
import { keepCampaign } from "../keep-campaign.ts";
import { evaluationsOf } from "../keep-evaluation.ts";
import { migrate } from "../migrate.ts";
import type { Migration } from "../migrations/migration.ts";
import { MIGRATIONS } from "../migrations/migrations.ts";
import { people, personAt } from "../people.ts";
import type { Schema } from "../schema.ts";
import { changeSinceSigned, signaturesOf } from "../signatures-of.ts";
import { openTestArchive, temporaryFolder } from "../testing/archive-folder.ts";
import { passphraseOf } from "../testing/people.ts";
import { sampleCampaign } from "../testing/sample-campaign.ts";
import { forbidChange } from "./forbid-change.ts";
import { DATABASE, openArchive } from "./open-archive.ts";
import { isPassphraseOf } from "./personal-key.ts";
import { openSqliteFile } from "./sqlite-file.ts";

/** The statements that make a database as a released schema left it, with invented content. Never edited. */
function released(version: number): string[] {
  const file = join(import.meta.dirname, `../testing/released/schema-${version}.json`);
  return JSON.parse(readFileSync(file, "utf8")) as string[];
}

const options = { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" };

test("MIG-1: there is a frozen database for each released schema", () => {
  expect(MIGRATIONS.map(({ version }) => version)).toEqual([1, 2]);
});

test("MIG-1: a database of schema 1 opens, fits its seals, gives its campaign, and goes on", async () => {
  const folder = temporaryFolder();
  const file = openSqliteFile(join(folder, DATABASE));
  for (const statement of released(1)) file.rows(statement);
  file.close();
  const archive = await openTestArchive(folder);
  expect(await audit(archive)).toMatchObject({ revisions: 5, faults: [] });
  const { campaign, revision } = await campaignAt(archive, "invented-fields");
  expect(revision).toBe(4);
  expect(campaign.tables["background"]!.rows[1]).toEqual(["b2", "dark", "60", "0.0130", "0.009"]);
  expect(campaign.tables["separation"]).toEqual(sampleCampaign().tables["separation"]);
  expect(await evaluationsOf(archive, "invented-fields")).toHaveLength(1);
  await keepCampaign(archive, sampleCampaign("next"), "goes on");
  expect((await audit(archive)).faults).toEqual([]);
});

test("MIG-1: a database of schema 2 opens, with its keys, people and signatures, and goes on", async () => {
  const folder = temporaryFolder();
  const file = openSqliteFile(join(folder, DATABASE));
  for (const statement of released(2)) file.rows(statement);
  file.close();
  const archive = await openTestArchive(folder);
  expect(await audit(archive)).toMatchObject({ revisions: 10, faults: [] });
  expect((await people(archive)).map(({ id }) => id)).toEqual(["m.one", "r.two"]);
  const signatures = await signaturesOf(archive, "invented-fields");
  expect(signatures.map(({ meaning, isCurrent }) => [meaning, isCurrent])).toEqual([
    ["measured", false],
    ["returned", false],
  ]);
  const change = await changeSinceSigned(archive, "invented-fields", signatures[0]!.seq);
  expect(change.quantities.find(({ id }) => id === "separation.stem-ratio")!.attributions[0]!.input).toBe(
    "separation/r4",
  );
  const { person } = (await personAt(archive, "m.one"))!;
  expect(await isPassphraseOf(person, passphraseOf("m.one"))).toBe(true);
  await keepCampaign(archive, sampleCampaign("next"), "goes on");
  expect((await audit(archive)).faults).toEqual([]);
});

test("MIG-1: a new database has the released schema to the letter: a released migration is not edited", async () => {
  const { file } = await openTestArchive();
  const made = file.rows("select sql from sqlite_master where sql is not null").map(({ sql }) => String(sql));
  expect(made.sort()).toEqual(
    released(2)
      .filter((statement) => statement.startsWith("CREATE"))
      .sort(),
  );
});

test("MIG-2: a database of a later version is refused and left as it is", async () => {
  const folder = temporaryFolder();
  const archive = await openArchive(folder, options);
  archive.file.rows("insert into schema_version values (3, 'from the future')");
  await archive.close();
  const before = readFileSync(join(folder, DATABASE));
  await expect(openArchive(folder, options)).rejects.toMatchObject({
    ...{ fault: "newer", message: expect.stringContaining("3, from the future") as unknown },
  });
  const opened = openSqliteFile(join(folder, DATABASE));
  expect(opened.rows("select * from schema_version")).toHaveLength(3);
  opened.close();
  expect(readFileSync(join(folder, DATABASE)).length).toBe(before.length);
});

/** A migration as one to come would be. */
const next: Migration = {
  version: 3,
  name: "invented",
  up: async (db) => db.schema.createTable("invented").addColumn("a", "text").execute(),
};

test("MIG-3: a later migration adds to what is there, once", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const db = new Kysely<Schema>({ dialect: archive.file.dialect });
  await migrate(db, forbidChange, [...MIGRATIONS, next]);
  await migrate(db, forbidChange, [...MIGRATIONS, next]);
  expect(archive.file.rows("select version from schema_version").map(({ version }) => version)).toEqual([1, 2, 3]);
  expect((await campaignAt(archive, "invented-fields")).campaign).toEqual(sampleCampaign());
});

test("MIG-3: a migration that fails leaves the database as it was", async () => {
  const archive = await openTestArchive();
  const failing: Migration = {
    ...next,
    up: async (db, forbid) => {
      await next.up(db, forbid);
      throw new Error("half way");
    },
  };
  const db = new Kysely<Schema>({ dialect: archive.file.dialect });
  await expect(migrate(db, forbidChange, [...MIGRATIONS, failing])).rejects.toThrow("half way");
  expect(archive.file.rows("select name from sqlite_master where name = 'invented'")).toEqual([]);
  expect((await audit(archive)).faults).toEqual([]);
});
