import { evaluate } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { audit } from "./audit.ts";
import type { AuditFault } from "./audit-fault.ts";
import { addReading, excludeReading } from "./change-reading.ts";
import type { ArchiveFolder } from "./folder/index.ts";
import { keepCampaign, undo } from "./keep-campaign.ts";
import { keepEvaluation } from "./keep-evaluation.ts";
import { TABLES } from "./schema.ts";
import { FIRST_SEAL, sealOf } from "./seal.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { signed, withPeople } from "./testing/people.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";
import { tamper } from "./testing/tamper.ts";

/** An archive with some of everything: two campaigns, two people who signed one of them, fifteen revisions. */
async function lived(): Promise<ArchiveFolder> {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign("one"), "import"); // 1 to 3, with fibre and beam
  const cells = { reading: "b2", condition: "dark", duration_s: "60", signal_blue: "0.013", signal_green: "0.009" };
  await addReading(archive, "one", { table: "background", cells, why: "console" }); // 4
  const { revision: after } = await excludeReading(archive, "one", {
    table: "separation",
    reading: "r1",
    reason: "spike",
  }); // 5
  const { campaign } = await undo(archive, "one", { after, why: "no spike" }); // 6
  await keepEvaluation(archive, "one", evaluate(campaign).result, "official"); // 7
  await keepCampaign(archive, sampleCampaign("two", "F-2"), "import"); // 8, 9
  const { result } = evaluate(sampleCampaign("two", "F-2"));
  const { result: digest } = await keepEvaluation(archive, "two", result, "official"); // 10
  const { measurer, reviewer } = await withPeople(archive); // 11, 12
  const said = { id: "two", after: 8, digest };
  await signed(archive, measurer, { ...said, meaning: "measured" }); // 13
  await signed(archive, reviewer, { ...said, meaning: "returned", reason: "look at r2 again" }); // 14
  await addReading(archive, "one", {
    table: "background",
    cells: { ...cells, reading: "b3" },
    why: "console",
    key: "k-1",
  }); // 15
  return archive;
}

/** The cells of every table, of each some rows: table, row, column, and the kind of value. */
function cellsOf({ file }: ArchiveFolder) {
  return TABLES.flatMap((table) =>
    file.rows(`PRAGMA table_info(${table})`).flatMap(({ name }) =>
      file
        .rows(`select rowid as row, typeof(${String(name)}) as kind from ${table}`)
        .filter(({ row }, index) => (table === "revision" ? [4, 13].includes(Number(row)) : index === 0))
        .map(({ row, kind }) => ({ table, column: String(name), row: Number(row), kind: String(kind) })),
    ),
  );
}

/** What an audit finds after statements that an intruder runs; the tables are then put right again. */
async function faultsAfter(archive: ArchiveFolder, ...statements: string[]): Promise<readonly AuditFault[]> {
  const touched = TABLES.filter((table) => statements.some((statement) => statement.includes(table)));
  const each = (sql: (table: string) => string) => touched.map(sql);
  tamper(archive.file, ...each((table) => `create temp table saved_${table} as select * from ${table}`));
  tamper(archive.file, ...statements);
  const { faults } = await audit(archive);
  tamper(
    archive.file,
    ...each((table) => `delete from ${table}`),
    ...each((table) => `insert into ${table} select * from saved_${table}`),
    ...each((table) => `drop table temp.saved_${table}`),
  );
  return faults;
}

test("SEAL-2: an archive that only the program wrote has no fault, and its last seal is told", async () => {
  const archive = await lived();
  const found = await audit(archive);
  const [last] = archive.file.rows("select seal from revision order by seq desc limit 1");
  expect(found).toEqual({ revisions: 15, seal: last!["seal"], faults: [] });
});

test("SEAL-2: an empty archive has no fault", async () => {
  expect(await audit(await openTestArchive())).toEqual({ revisions: 0, seal: "0".repeat(64), faults: [] });
});

/** Ways to alter a cell by one character, by value, and by what a query does not show. */
const alterations: Record<string, readonly ((column: string) => string)[]> = {
  text: [
    (c) => `substr(${c}, 1, length(${c}) / 2) || '~' || substr(${c}, length(${c}) / 2 + 2)`,
    (c) => `${c} || char(0) || 'hidden'`,
    (c) => `cast(${c} as blob)`,
    (c) => `substr(${c}, 2)`,
  ],
  integer: [(c) => `${c} + 1000`, (c) => `${c} + 0.5`],
  null: [() => "1"],
};

test("SEAL-2: whichever cell is altered by plain SQL, triggers put back, the audit names the row", async () => {
  const archive = await lived();
  archive.file.rows("PRAGMA synchronous = OFF"); // hundreds of alterations need not reach the disk
  const cells = cellsOf(archive);
  expect(cells.length).toBeGreaterThan(30);
  const unseen: string[] = [];
  for (const { table, column, row, kind } of cells) {
    const isKey = column === "version" || (column === "seq" && kind === "integer");
    for (const altered of alterations[kind]!) {
      if (isKey && altered("").includes("0.5")) continue; // SQLite itself refuses it
      const statement = `update ${table} set ${column} = ${altered(column)} where rowid = ${row}`;
      const faults = await faultsAfter(archive, statement);
      const named = faults.some(({ revision, says }) =>
        table === "revision"
          ? revision === row || says.includes(`row ${row} of the table revision`)
          : says.includes(table),
      );
      if (!named) unseen.push(`${statement}: ${JSON.stringify(faults)}`);
    }
  }
  expect(unseen).toEqual([]);
  expect((await audit(archive)).faults).toEqual([]);
}, 60_000);

test("SEAL-2: of several altered revisions the first is named", async () => {
  const archive = await lived();
  const faults = await faultsAfter(archive, "update revision set who = 'X' where seq in (8, 4, 9)");
  expect(faults).toEqual([{ revision: 4, says: "revision 4 (campaign one) does not fit its seal." }]);
});

test("SEAL-3: a revision that is taken out, put in or moved is named", async () => {
  const archive = await lived();
  const put = "insert into revision select 16, at, who, why, kind, 'X', base, body, 'x' from revision where seq = 2";
  const swap = ["update revision set seq = -2 where seq = 2", "update revision set seq = 2 where seq = 3"];
  expect((await faultsAfter(archive, "delete from revision where seq = 5")).at(-1)).toMatchObject({
    ...{ revision: 5, says: "revision 5 is missing; the next is 6." },
  });
  expect(await faultsAfter(archive, put)).toMatchObject([{ revision: 16 }]);
  expect(await faultsAfter(archive, ...swap, "update revision set seq = 3 where seq = -2")).toMatchObject([
    { revision: 2 },
  ]);
});

test("SEAL-3: an end that is cut off, rows for lists put right, shows against a seal that is known outside", async () => {
  const archive = await lived();
  const { revisions: revision, seal } = await audit(archive);
  expect((await audit(archive, [{ revision, seal }])).faults).toEqual([]);
  tamper(
    archive.file,
    "delete from change_key where seq = 15",
    "update campaign set (latest, readings, input) = (6, 6, (select input from evaluation where seq = 7)) where id = 'one'",
    "delete from revision where seq = 15",
  );
  expect((await audit(archive)).faults).toEqual([]);
  const { faults } = await audit(archive, [{ revision, seal }]);
  expect(faults).toEqual([{ revision: 15, says: "revisions 15 to 15 are missing: the seal of 15 is known." }]);
});

test("SEAL-3: a record that was sealed anew shows against a seal that is known outside", async () => {
  const [archive, other] = [await openTestArchive(), await openTestArchive()];
  for (const { file, ...one } of [archive, other]) await keepCampaign({ ...one }, sampleCampaign("one"), "import");
  const { revisions } = await audit(archive);
  await keepCampaign(archive, sampleCampaign("three"), "import");
  await keepCampaign({ ...other, who: "S. Second" }, sampleCampaign("three"), "import");
  const [mine, theirs] = [await audit(archive), await audit(other)];
  expect(theirs.faults).toEqual([]);
  expect((await audit(other, [{ revision: mine.revisions, seal: mine.seal }])).faults).toMatchObject([
    { revision: revisions + 1 },
  ]);
});

test("SEAL-4: rows for lists that no revision makes, or that are missing, are named", async () => {
  const archive = await lived();
  expect(await faultsAfter(archive, "delete from evaluation where seq = 7")).toMatchObject([
    { revision: 7, says: expect.stringContaining("evaluation") as unknown },
    { says: "the table evaluation has 1 rows; the revisions make 2." },
  ]);
  for (const [table, row] of [
    ["change_key", "values ('ghost', 9)"],
    ["person", "select 'ghost', name, 'x', 9 from person limit 1"],
    ["signature", "select 9, campaign, revision, evaluation, meaning, who from signature limit 1"],
  ])
    expect((await faultsAfter(archive, `insert into ${table} ${row}`)).map(({ says }) => says)).toEqual([
      expect.stringMatching(new RegExp(`the table ${table} has \\d rows; the revisions make \\d`)),
    ]);
  const put =
    "insert into campaign select 'ghost', name, title, fibre, beam, readings, input, words, 1 from campaign limit 1";
  expect(await faultsAfter(archive, put)).toMatchObject([
    { says: "the table campaign has 3 rows; the revisions make 2." },
  ]);
});

test("SEAL-5: a trigger, index or table that is gone, changed or added is named", async () => {
  const archive = await lived();
  archive.file.rows("drop trigger revision_no_update");
  archive.file.rows("drop index campaign_by_beam");
  archive.file.rows("create index campaign_by_beam on campaign (beam)");
  archive.file.rows("create table extra (a)");
  expect((await audit(archive)).faults.map(({ says }) => says).sort()).toEqual([
    "the index campaign_by_beam is not as it was made.",
    "the table extra does not belong to the archive.",
    "the trigger revision_no_update is missing.",
  ]);
});

test.each(["revision", "evaluation", "change_key", "signature", "schema_version"])(
  "KEEP-2: rows of %s can be neither changed nor deleted",
  async (table) => {
    const archive = await lived();
    const before = archive.file.rows(`select * from ${table}`);
    expect(() => archive.file.rows(`update ${table} set rowid = rowid`)).toThrow(`${table} is append-only`);
    expect(() => archive.file.rows(`delete from ${table}`)).toThrow(`${table} is append-only`);
    expect(() => archive.file.rows("delete from campaign")).toThrow("campaign is append-only");
    const strip = (rows: readonly object[]) => rows.map((row) => ({ ...row, _metadata: 0 }));
    expect(strip(archive.file.rows(`select * from ${table}`))).toEqual(strip(before));
  },
);

/** Alters the body of a revision and seals the record anew, as somebody would who knows the program but has no key. */
function sealAnew({ file }: ArchiveFolder, seq: number, change: (body: string) => string) {
  const rows = file.rows("select * from revision order by seq") as unknown as Parameters<typeof sealOf>[1][];
  let last = FIRST_SEAL;
  const statements = rows.map(({ seq: own, at, who, why, kind, subject, base, body }) => {
    const row = { seq: own, at, who, why, kind, subject, base, body: own === seq ? change(body) : body };
    last = sealOf(last, row);
    return `update revision set body = '${row.body.replaceAll("'", "''")}', seal = '${last}' where seq = ${own}`;
  });
  tamper(file, ...statements);
}

test.each<[string, number, (body: string) => string, RegExp]>([
  [
    "whose meaning was turned",
    14,
    (body) => body.replace('"returned"', '"agrees"'),
    /r.two under two\) is not genuine/,
  ],
  ["whose reason was turned", 14, (body) => body.replace("look at r2 again", "all is well"), /is not genuine/],
  ["of another person", 13, (body) => body.replace('"who":"m.one"', '"who":"r.two"'), /m.one|key that was not theirs/],
])("SIGN-9: a signature %s is named, though the record was sealed anew", async (_, seq, change, says) => {
  const archive = await lived();
  sealAnew(archive, seq, change);
  const { faults } = await audit(archive);
  expect(faults.map(({ revision }) => revision)).toContain(seq);
  expect(faults.map((fault) => fault.says).join("\n")).toMatch(says);
});

test("SIGN-9: readings that were altered under a signature are named with it, though the record was sealed anew", async () => {
  const archive = await lived();
  sealAnew(archive, 8, (body) => body.replace("6,510", "6,511"));
  const { faults } = await audit(archive);
  expect(faults.map((fault) => fault.says).join("\n")).toMatch(/under other readings than the archive keeps/);
});

test("SIGN-9: a signature moved under another campaign is named", async () => {
  const archive = await lived();
  sealAnew(archive, 13, (body) => body.replace('"campaign":"two"', '"campaign":"one"'));
  expect((await audit(archive)).faults.map(({ says }) => says).join("\n")).toMatch(/is of another campaign, one/);
});
