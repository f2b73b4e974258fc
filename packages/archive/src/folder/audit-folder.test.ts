import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { audit } from "../audit.ts";
import { addReading } from "../change-reading.ts";
import { keepCampaign } from "../keep-campaign.ts";
import { openTestArchive, temporaryFolder } from "../testing/archive-folder.ts";
import { sampleCampaign } from "../testing/sample-campaign.ts";
import { auditFolder } from "./audit-folder.ts";
import { DATABASE, openArchive } from "./open-archive.ts";
import { whileHeldStill } from "./sqlite-file.ts";

const options = { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" };
const cells = { reading: "b2", condition: "dark", duration_s: "60", signal_blue: "0.0130", signal_green: "0.009" };

/** Everything in a folder: names, bytes and times. */
function stateOf(folder: string) {
  return readdirSync(folder).map((name) => {
    const path = join(folder, name);
    return [name, readFileSync(path).toString("base64"), statSync(path).mtimeMs] as const;
  });
}

async function closedArchive(): Promise<string> {
  const folder = temporaryFolder();
  const archive = await openArchive(folder, options);
  await keepCampaign(archive, sampleCampaign(), "import");
  await archive.close();
  return folder;
}

test("FILE-7: an archive that is closed is audited, and its folder is as it was, names, bytes and times", async () => {
  const folder = await closedArchive();
  const before = stateOf(folder);
  const found = await auditFolder(folder);
  expect(found).toMatchObject({ revisions: 3, faults: [] });
  expect(stateOf(folder)).toEqual(before);
  const wrong = await auditFolder(folder, [{ revision: 2, seal: "0".repeat(64) }]);
  expect(wrong.faults).toMatchObject([{ revision: 2 }]);
  expect(stateOf(folder)).toEqual(before);
});

test("FILE-7: what a killed process has left beside the database is audited too, and left there", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  await addReading(archive, "invented-fields", { table: "background", cells, why: "console" });
  // the files as they lie there while the archive is open: so a process leaves them that is killed
  const killed = join(temporaryFolder(), "killed");
  mkdirSync(killed);
  for (const name of [DATABASE, `${DATABASE}-wal`]) copyFileSync(join(archive.folder, name), join(killed, name));
  const before = stateOf(killed);
  expect(before.map(([name]) => name)).toEqual([DATABASE, `${DATABASE}-wal`]);
  expect(await auditFolder(killed)).toEqual(await audit(archive));
  expect((await auditFolder(killed)).revisions).toBe(4);
  expect(stateOf(killed)).toEqual(before);
});

test("FILE-7: an archive that a process has open is not audited beside it", async () => {
  const archive = await openTestArchive();
  await keepCampaign(archive, sampleCampaign(), "import");
  await expect(auditFolder(archive.folder)).rejects.toMatchObject({ fault: "in-use" });
  expect((await audit(archive)).faults).toEqual([]);
});

test("FILE-7: a folder without an archive stays without one, and a damaged one is refused as it is", async () => {
  const folder = temporaryFolder();
  await expect(auditFolder(folder)).rejects.toMatchObject({ fault: "missing" });
  await expect(auditFolder(join(folder, "absent"))).rejects.toMatchObject({ fault: "missing" });
  expect(readdirSync(folder)).toEqual([]);
  expect(existsSync(join(folder, "absent"))).toBe(false);
  writeFileSync(join(folder, DATABASE), "these are not the bytes of a database ".repeat(40));
  const before = stateOf(folder);
  await expect(auditFolder(folder)).rejects.toMatchObject({ fault: "not-an-archive" });
  expect(stateOf(folder)).toEqual(before);
});

test("FILE-7: a folder whose name means something in an address is found as it is called", async () => {
  const odd = join(temporaryFolder(), "50 % of? #1 é");
  const archive = await openArchive(odd, options);
  await keepCampaign(archive, sampleCampaign(), "import");
  await archive.close();
  const before = stateOf(odd);
  expect((await auditFolder(odd)).revisions).toBe(3);
  expect(stateOf(odd)).toEqual(before);
});

test("FILE-7: the connection that holds a database still cannot write to it", async () => {
  const file = join(await closedArchive(), DATABASE);
  const write = () => whileHeldStill(file, (rows) => rows("create table extra (a)"));
  expect(write).toThrow(/cannot be written to/);
});
