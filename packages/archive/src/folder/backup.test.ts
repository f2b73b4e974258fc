import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { audit } from "../audit.ts";
import { campaignAt } from "../campaign-at.ts";
import { addReading } from "../change-reading.ts";
import { keepCampaign } from "../keep-campaign.ts";
import { openTestArchive, temporaryFolder } from "../testing/archive-folder.ts";
import { sampleCampaign } from "../testing/sample-campaign.ts";
import { tamper } from "../testing/tamper.ts";
import { backUp, backupsIn, copyArchive, proveCopy, restoreBackup } from "./backup.ts";
import { type ArchiveFolder, BACKUPS, DATABASE } from "./open-archive.ts";

const options = { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" };
const filesOf = ({ folder }: ArchiveFolder) => readdirSync(join(folder, BACKUPS)).sort();

async function withCampaign() {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  return archive;
}

test("BACK-1: a backup is one file that holds everything, proven by restoring it", async () => {
  const archive = await withCampaign();
  const { file, audit: proven } = await backUp(archive, { keep: 3 });
  expect(proven).toEqual(await audit(archive));
  expect(proven.revisions).toBe(3);
  expect(filesOf(archive)).toEqual(["revision-000000003-2026-03-14T08-00-04-000Z.sqlite"]);
  const folder = join(temporaryFolder(), "new");
  expect(await restoreBackup(file, folder, options)).toEqual(proven);
  const restored = await openTestArchive(folder);
  expect(await campaignAt(restored, "invented-fields")).toEqual(await campaignAt(archive, "invented-fields"));
  await keepCampaign(restored, sampleCampaign("next"), "goes on");
  expect((await audit(restored)).faults).toEqual([]);
});

test("BACK-1: an empty archive can be backed up", async () => {
  const archive = await openTestArchive();
  expect((await backUp(archive, { keep: 1 })).audit.revisions).toBe(0);
});

test("BACK-2: backups beyond the number to keep go, the oldest first", async () => {
  const archive = await openTestArchive();
  const made: string[] = [];
  for (let i = 0; i < 5; i++) {
    await keepCampaign(archive, sampleCampaign(`campaign-${i}`), "import");
    made.push((await backUp(archive, { keep: 3 })).file);
  }
  expect(backupsIn(join(archive.folder, BACKUPS)).map((name) => join(archive.folder, BACKUPS, name))).toEqual(
    made.slice(2),
  );
  expect(filesOf(archive)).toHaveLength(3);
  await expect(backUp(archive, { keep: 0 })).rejects.toThrow(/Keep at least 1/);
});

test("BACK-3: an archive that was altered is not backed up, and the backups before stay", async () => {
  const archive = await withCampaign();
  await backUp(archive, { keep: 1 });
  const before = filesOf(archive);
  tamper(archive.file, "update revision set why = 'another reason' where seq = 2");
  await expect(backUp(archive, { keep: 1 })).rejects.toThrow(/revision 2 \(fibre F-1\) does not fit its seal/);
  expect(filesOf(archive)).toEqual(before);
});

/** The archive with copies that come out altered: what a failing disk would do. */
function spoiling(archive: ArchiveFolder, spoil: (copy: string) => void): ArchiveFolder {
  const copyInto = (copy: string) => {
    archive.file.copyInto(copy);
    spoil(copy);
  };
  return { ...archive, file: { ...archive.file, copyInto } };
}

test.each<[string, (copy: string) => void]>([
  ["is empty", (copy) => writeFileSync(copy, "")],
  ["is cut short", (copy) => writeFileSync(copy, readFileSync(copy).subarray(0, 5000))],
  ["has a reason altered", (copy) => writeFileSync(copy, altered(readFileSync(copy), "first seen", "First seen"))],
])("BACK-3: a copy that %s is not counted, is removed, and the backups before stay", async (_, spoil) => {
  const archive = await withCampaign();
  await backUp(archive, { keep: 1 });
  const before = filesOf(archive);
  await keepCampaign(archive, sampleCampaign("later"), "import");
  await expect(backUp(spoiling(archive, spoil), { keep: 1 })).rejects.toMatchObject({ fault: "backup-failed" });
  expect(filesOf(archive)).toEqual(before);
});

function altered(bytes: Buffer, from: string, to: string): Buffer {
  const at = bytes.indexOf(from);
  expect(at).toBeGreaterThan(0);
  bytes.write(to, at);
  return bytes;
}

test("BACK-3: a copy that cannot be written says so, and the backups before stay", async () => {
  const archive = await withCampaign();
  await backUp(archive, { keep: 1 });
  const before = filesOf(archive);
  const full = spoiling(archive, () => {
    throw Object.assign(new Error("database or disk is full"), { code: "SQLITE_FULL" });
  });
  await expect(backUp(full, { keep: 1 })).rejects.toMatchObject({ fault: "full" });
  expect(filesOf(archive)).toEqual(before);
});

test("BACK-3: what an interrupted backup left behind is replaced by the next", async () => {
  const archive = await withCampaign();
  await backUp(archive, { keep: 2 });
  writeFileSync(join(archive.folder, BACKUPS, "unproven.part"), "half");
  await backUp(archive, { keep: 2 });
  expect(filesOf(archive)).toHaveLength(2);
});

test("BACK-4: a backup is not restored over an archive, nor one that is altered, nor one that is not there", async () => {
  const archive = await withCampaign();
  const { file } = await backUp(archive, { keep: 1 });
  await expect(restoreBackup(file, archive.folder, options)).rejects.toMatchObject({ fault: "exists" });
  await expect(restoreBackup(`${file}x`, temporaryFolder(), options)).rejects.toMatchObject({ fault: "missing" });
  writeFileSync(file, altered(readFileSync(file), "first seen", "First seen"));
  const folder = temporaryFolder();
  await expect(restoreBackup(file, folder, options)).rejects.toThrow(
    /is not sound: revision 3 \(beam B-1\) does not fit/,
  );
  expect(readdirSync(folder)).toEqual([]);
});

test("BACK-4: a backup of before is refused where a later seal is known", async () => {
  const archive = await withCampaign();
  const { file } = await backUp(archive, { keep: 1 });
  await keepCampaign(archive, sampleCampaign("later"), "import");
  const { revisions: revision, seal } = await audit(archive);
  const folder = temporaryFolder();
  await expect(restoreBackup(file, folder, options, [{ revision, seal }])).rejects.toThrow(
    /revisions 4 to 4 are missing/,
  );
  expect(readdirSync(folder)).not.toContain(DATABASE);
});

test("BACK-1: a backup waits for changes that are under way, and holds those that were made before it", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  const cells = { condition: "dark", duration_s: "60", signal_blue: "0.01", signal_green: "0.01" };
  const add = async (reading: string) =>
    addReading(archive, "invented-fields", { table: "background", cells: { reading, ...cells }, why: "console" });
  const adding = ["x1", "x2", "x3", "x4"].map(async (reading) => add(reading));
  const copied = copyArchive(archive);
  const more = ["x5", "x6"].map(async (reading) => add(reading));
  const { audit: proven } = await proveCopy(await copied, { keep: 2, at: archive.clock() });
  expect(proven.faults).toEqual([]);
  expect(proven.revisions).toBeGreaterThanOrEqual(3 + adding.length);
  await Promise.all([...adding, ...more]);
  expect((await audit(archive)).faults).toEqual([]);
});
