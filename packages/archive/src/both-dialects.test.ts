/** That the queries are written once: what SQLite runs here compiles for PostgreSQL too. No PostgreSQL server is asked. */
import { DummyDriver, Kysely, PostgresAdapter, PostgresIntrospector, PostgresQueryCompiler } from "kysely";
import { expect, test } from "vitest";
import { audit } from "./audit.ts";
import { listCampaigns } from "./list-campaigns.ts";
import { MIGRATIONS } from "./migrations/migrations.ts";
import type { Schema } from "./schema.ts";

function onPostgres() {
  const queries: string[] = [];
  const db = new Kysely<Schema>({
    dialect: {
      createAdapter: () => new PostgresAdapter(),
      createDriver: () => new DummyDriver(),
      createIntrospector: (inner) => new PostgresIntrospector(inner),
      createQueryCompiler: () => new PostgresQueryCompiler(),
    },
    log: ({ query }) => void queries.push(query.sql),
  });
  const archive = { db, clock: () => "", who: "R. Tester", storageFaults: async () => Promise.resolve([]) };
  return { archive, queries };
}

test("a search compiles for PostgreSQL, with its own signs for parameters", async () => {
  const { archive, queries } = onPostgres();
  await listCampaigns(archive, { words: "cones 5%", fibre: "F-1", limit: 10 });
  expect(queries).toEqual([expect.stringMatching(/"campaign"\."fibre" = \$1 and campaign\.words like \$2 escape '!'/)]);
});

test("an audit compiles for PostgreSQL", async () => {
  const { archive, queries } = onPostgres();
  await expect(audit(archive)).rejects.toThrow(/no result/i); // the driver that answers nothing has no count either
  expect(queries.join("\n")).toMatch(/max\("seq"\) as "latest" from "revision" where "kind" = \$1 group by "subject"/);
});

test("a migration compiles for PostgreSQL, and asks the dialect for its triggers", async () => {
  const { archive, queries } = onPostgres();
  const asked: string[] = [];
  const forbid = async (_: unknown, table: string, what: string) => {
    asked.push(await Promise.resolve(`${table} ${what}`));
  };
  for (const { up } of MIGRATIONS) await up(archive.db as unknown as Kysely<unknown>, forbid);
  expect(queries[0]).toMatch(/^create table "revision" \("seq" integer primary key, "at" text not null/);
  expect(asked).toContain("revision update");
  expect(asked).toContain("revision delete");
});
