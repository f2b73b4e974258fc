import { Kysely } from "kysely";
import { expect, test } from "vitest";
import { addReading } from "./change-reading.ts";
import { forbidChange } from "./folder/forbid-change.ts";
import { openSqliteFile } from "./folder/sqlite-file.ts";
import { keepCampaign } from "./keep-campaign.ts";
import { type CampaignSearch, listCampaigns } from "./list-campaigns.ts";
import { migrate } from "./migrate.ts";
import type { Schema } from "./schema.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

async function some() {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign("cones-5", "F-1", "B-1"), "import");
  await keepCampaign(archive, sampleCampaign("cones_6", "F-2", "B-1"), "import");
  await keepCampaign(archive, sampleCampaign("squares-100%", "F-2", "B-2"), "import");
  const ids = async (search?: CampaignSearch) => (await listCampaigns(archive, search)).map(({ id }) => id);
  return { archive, ids };
}

test("LIST-1: campaigns are listed with the last changed first, and by whom and when", async () => {
  const { archive, ids } = await some();
  expect(await ids()).toEqual(["squares-100%", "cones_6", "cones-5"]);
  const cells = { reading: "b2", condition: "dark" };
  await addReading({ ...archive, who: "S. Second" }, "cones-5", { table: "background", cells, why: "more" });
  const [first] = await listCampaigns(archive);
  expect(first).toMatchObject({ id: "cones-5", who: "S. Second", readings: 6, fibre: "F-1", beam: "B-1" });
  expect(first!.at).toMatch(/^2026-03-14T08:00:/);
});

test.each<[string, CampaignSearch, string[]]>([
  ["one word", { words: "cones" }, ["cones_6", "cones-5"]],
  ["capitals", { words: "CONES inVented" }, ["cones_6", "cones-5"]],
  ["words of the title and the fibre", { words: "small f-2" }, ["squares-100%", "cones_6"]],
  ["an underscore, taken as it stands", { words: "cones_" }, ["cones_6"]],
  ["a percent sign, taken as it stands", { words: "0%" }, ["squares-100%"]],
  ["a percent sign between letters, taken as it stands", { words: "s%0" }, []],
  ["an exclamation mark, taken as it stands", { words: "!s" }, []],
  ["a quotation mark", { words: "'" }, []],
  ["blanks alone", { words: "  " }, ["squares-100%", "cones_6", "cones-5"]],
  ["a fibre", { fibre: "F-2" }, ["squares-100%", "cones_6"]],
  ["a beam and a fibre", { beam: "B-1", fibre: "F-2" }, ["cones_6"]],
  ["words that none has", { words: "cones squares" }, []],
])("LIST-1: a search finds by %s", async (_, search, found) => {
  const { ids } = await some();
  expect(await ids(search)).toEqual(found);
});

test("LIST-1: a long list comes in pages that neither miss nor repeat one", async () => {
  const { archive, ids } = await some();
  const first = await listCampaigns(archive, { limit: 2 });
  expect(first.map(({ id }) => id)).toEqual(["squares-100%", "cones_6"]);
  expect(await ids({ limit: 2, before: first.at(-1)!.latest })).toEqual(["cones-5"]);
});

/** How SQLite goes about a query in the archive's schema. */
async function planOf(sql: string): Promise<string[]> {
  const file = openSqliteFile(":memory:");
  await migrate(new Kysely<Schema>({ dialect: file.dialect }), forbidChange);
  return file.rows(`explain query plan ${sql}`).map((row) => String(row["detail"]));
}

test("LIST-2: a list is one query whatever the number of campaigns, in the order of an index, and reads no document", async () => {
  const { archive } = await some();
  const queries: string[] = [];
  const db = new Kysely<Schema>({ dialect: archive.file.dialect, log: ({ query }) => void queries.push(query.sql) });
  await listCampaigns({ ...archive, db }, { words: "cones", limit: 5 });
  const [query, ...others] = queries.filter((sql) => sql.startsWith("select"));
  expect(others).toEqual([]);
  expect(query).not.toMatch(/body|\*/);
  const literal = query!.replace(/\?/g, "5");
  const plan = await planOf(literal);
  expect(plan.join("; ")).toMatch(/USING INDEX campaign_by_latest/);
  expect(plan.join("; ")).not.toMatch(/TEMP B-TREE|SCAN revision/);
});

test("LIST-2: loading a campaign reads its own revisions from its last whole document on, by index", async () => {
  const sql =
    "select body from revision where kind = 'campaign' and subject = 'a' and seq >= 1 and seq <= 2 order by seq";
  const plan = await planOf(sql);
  expect(plan).toEqual([expect.stringMatching(/^SEARCH revision USING INDEX revision_by_subject/)]);
});
