import { fork } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { audit } from "../audit.ts";
import { campaignAt } from "../campaign-at.ts";
import { addReading } from "../change-reading.ts";
import { historyOf } from "../history.ts";
import { keepCampaign } from "../keep-campaign.ts";
import { openTestArchive, temporaryFolder } from "../testing/archive-folder.ts";
import { sampleCampaign } from "../testing/sample-campaign.ts";
import { backUp } from "./backup.ts";
import { DATABASE, openArchive } from "./open-archive.ts";

const options = { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" };
const cells = { reading: "b2", condition: "dark", duration_s: "60", signal_blue: "0.0130", signal_green: "0.009" };

test("FILE-1: the connection keeps a write-ahead log, flushes in full and minds references", async () => {
  const { file } = await openTestArchive();
  const value = (name: string) => file.rows(`PRAGMA ${name}`)[0]![name];
  expect(value("journal_mode")).toBe("wal");
  expect(value("synchronous")).toBe(2); // FULL, as SQLite numbers it
  expect(value("foreign_keys")).toBe(1);
  expect(() => file.rows("update campaign set latest = 99")).not.toThrow(); // there is none yet
});

test("FILE-1: a row that refers to nothing is refused", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  expect(() => archive.file.rows("update campaign set latest = 99")).toThrow(/FOREIGN KEY/);
});

test("an archive that was closed is opened again as it was", async () => {
  const folder = temporaryFolder();
  const first = await openArchive(folder, options);
  const kept = await keepCampaign(first, sampleCampaign(), "import");
  await first.close();
  expect(readdirSync(folder)).toEqual([DATABASE]);
  const second = await openTestArchive(folder);
  expect(await campaignAt(second, "invented-fields")).toEqual(kept);
  expect((await audit(second)).faults).toEqual([]);
});

test("closing waits for what is under way, and keeps it", async () => {
  const folder = temporaryFolder();
  const first = await openArchive(folder, options);
  const [kept] = await Promise.all([keepCampaign(first, sampleCampaign(), "import"), first.close()]);
  const second = await openTestArchive(folder);
  expect(await campaignAt(second, "invented-fields")).toEqual(kept);
});

test("FILE-2: a second process on the folder is refused, and so is a second opening in this one", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const script = join(temporaryFolder(), "second.mjs");
  const driver = join(import.meta.dirname, "../../../../node_modules/libsql/index.js");
  writeFileSync(
    script,
    `import Libsql from ${JSON.stringify(driver)};
    const answers = ["PRAGMA quick_check", "select * from revision", "delete from campaign"].map((sql) => {
      try { new Libsql(process.argv[2]).prepare(sql).all(); return "let in"; } catch (error) { return error.code; }
    });
    process.send(answers);`,
  );
  const child = fork(script, [join(archive.folder, DATABASE)], { execArgv: [] });
  const [answers] = (await once(child, "message")) as [string[]];
  expect(answers).toEqual(["SQLITE_BUSY", "SQLITE_BUSY", "SQLITE_BUSY"]);
  await expect(openArchive(archive.folder, options)).rejects.toMatchObject({ fault: "in-use" });
  await addReading(archive, "invented-fields", { table: "background", cells, why: "console" });
  expect((await audit(archive)).faults).toEqual([]);
});

test("FILE-3: a folder on a network share is refused before anything is made in it", async () => {
  const folder = temporaryFolder();
  const nfs = 0x6969; // NFS_SUPER_MAGIC, linux/magic.h
  const refused = openArchive(folder, { ...options, fileSystem: () => nfs });
  await expect(refused).rejects.toMatchObject({
    fault: "network-share",
    message: expect.stringContaining("(NFS)") as unknown,
  });
  expect(readdirSync(folder)).toEqual([]);
});

test("FILE-4: a damaged database is refused at start and left as it is, byte for byte", async () => {
  const folder = temporaryFolder();
  const archive = await openArchive(folder, options);
  for (let i = 0; i < 20; i++) await keepCampaign(archive, sampleCampaign(`campaign-${i}`), "import");
  await archive.close();
  const path = join(folder, DATABASE);
  const bytes = readFileSync(path);
  bytes.fill(0xa5, 4096 * 3, 4096 * 4); // a whole page
  writeFileSync(path, bytes);
  const refused = openArchive(folder, options);
  await expect(refused).rejects.toMatchObject({
    fault: "damaged",
    remedy: expect.stringContaining("restore") as unknown,
  });
  expect(readFileSync(path).equals(bytes)).toBe(true);
});

test("FILE-4: a file that is no database is refused and left as it is", async () => {
  const folder = temporaryFolder();
  const text = "these are not the bytes of a database ".repeat(40);
  writeFileSync(join(folder, DATABASE), text);
  await expect(openArchive(folder, options)).rejects.toMatchObject({ fault: "not-an-archive" });
  expect(readFileSync(join(folder, DATABASE), "utf8")).toBe(text);
});

test("FILE-4: whatever byte of the file is changed, it is refused, or the audit says so, or nothing that is kept differs", async () => {
  const folder = temporaryFolder();
  const archive = await openArchive(folder, options);
  await keepCampaign(archive, sampleCampaign(), "import");
  await addReading(archive, "invented-fields", { table: "background", cells, why: "console" });
  const kept = archive.file.rows("select seq, seal from revision").map(({ seal }) => seal);
  await archive.close();
  const bytes = readFileSync(join(folder, DATABASE));
  const met = { refused: 0, told: 0, same: 0 };
  for (let at = 17; at < bytes.length; at += 977) {
    const altered = Buffer.from(bytes);
    altered[at] = altered[at]! ^ 0x01;
    const place = join(folder, `${at}`);
    mkdirSync(place);
    writeFileSync(join(place, DATABASE), altered);
    const outcome = await openArchive(place, options).then(
      async (opened) => {
        const { faults } = await audit(opened).catch(() => ({ faults: ["refused"] }));
        const same = opened.file.rows("select seq, seal from revision").map(({ seal }) => seal);
        await opened.close();
        if (faults.length > 0) return "told";
        expect(same, `byte ${at}`).toEqual(kept);
        return "same";
      },
      () => "refused" as const,
    );
    met[outcome] += 1;
    rmSync(place, { recursive: true });
  }
  expect(met.refused + met.told).toBeGreaterThan(3);
});

test("FILE-5: on a full disk nothing is kept, what was kept is safe, and the archive goes on when there is room", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  // SQLite's own limit gives the same error as a disk without room
  const [{ page_count: pages }] = archive.file.rows("PRAGMA page_count") as [{ page_count: number }];
  archive.file.rows(`PRAGMA max_page_count = ${pages}`);
  const large = { ...cells, note: "x".repeat(100_000) };
  const refused = addReading(archive, "invented-fields", { table: "background", cells: large, why: "console" });
  await expect(refused).rejects.toMatchObject({
    fault: "full",
    message: expect.stringContaining("Make room") as unknown,
  });
  expect(await historyOf(archive, "campaign", "invented-fields")).toHaveLength(1);
  expect((await audit(archive)).faults).toEqual([]);
  archive.file.rows("PRAGMA max_page_count = 1000000");
  await addReading(archive, "invented-fields", { table: "background", cells: large, why: "console" });
  expect(await historyOf(archive, "campaign", "invented-fields")).toHaveLength(2);
});

test("FILE-5: where nothing may be written the message says what to do, and reading goes on", async () => {
  const archive = await openTestArchive();
  const kept = await keepCampaign(archive, sampleCampaign(), "import");
  archive.file.rows("PRAGMA query_only = 1"); // SQLite's own error of a file that is read-only
  const refused = addReading(archive, "invented-fields", { table: "background", cells, why: "console" });
  await expect(refused).rejects.toMatchObject({
    fault: "read-only",
    message: expect.stringContaining("right to write") as unknown,
  });
  expect(await campaignAt(archive, "invented-fields")).toEqual(kept);
});

test("FILE-5: a path that cannot be a folder is refused with its name", async () => {
  const file = join(temporaryFolder(), "file");
  writeFileSync(file, "");
  await expect(openArchive(file, options)).rejects.toMatchObject({
    fault: "disk",
    message: expect.stringContaining(file) as unknown,
  });
});

test("FILE-6: a folder with backups whose database is gone does not become an empty archive", async () => {
  const folder = temporaryFolder();
  const archive = await openArchive(folder, options);
  await backUp(archive, { keep: 1 });
  await archive.close();
  rmSync(join(folder, DATABASE));
  await expect(openArchive(folder, options)).rejects.toMatchObject({ fault: "missing" });
  expect(readdirSync(folder)).toEqual(["backups"]);
});
