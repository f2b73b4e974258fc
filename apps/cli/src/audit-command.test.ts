import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { keepCampaign } from "@alcedo-dosimetry/archive";
import { openArchive } from "@alcedo-dosimetry/archive/folder";
import { expect, onTestFinished, test } from "vitest";
import { alcedo } from "./testing/console.ts";

const clock = () => "2026-03-14T08:00:00Z";

function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "alcedo-audit-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** An archive with one invented campaign, open. */
async function archive(folder: string) {
  const opened = await openArchive(folder, { clock, who: "R. Tester" });
  await keepCampaign(opened, CAMPAIGN, "import");
  return opened;
}

const CAMPAIGN = {
  descriptor: {
    name: "invented",
    alcedo: {
      version: 1 as const,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon" as const },
    },
    resources: [{ name: "background", path: "dark.csv", alcedo: { series: "background" as const } }],
  },
  tables: {
    background: {
      ...{ path: "dark.csv", decimal: "." as const, lines: [2] },
      columns: ["reading", "condition", "duration_s", "signal_blue", "signal_green"],
      rows: [["b1", "dark", "60", "0.012", "0.009"]],
    },
  },
};

test("an archive that nobody altered: what was looked at, how many revisions, the head of the seal; status 0", async () => {
  const folder = scratchFolder();
  await (await archive(folder)).close();
  const { status, out, err } = await alcedo(["audit", folder]);
  expect([status, err]).toEqual([0, ""]);
  expect(out).toContain("Nothing was altered in 3 revisions.");
  const [, head] = /^ {2}(3:[0-9a-f]{64})$/m.exec(out)!;
  expect((await alcedo(["audit", folder, "--seal", head!])).status).toBe(0);
  const json = JSON.parse((await alcedo(["audit", folder, "--json"])).out) as object;
  expect(json).toEqual({ archive: folder, known: [], revisions: 3, seal: head!.slice(2), faults: [] });
});

test("without FOLDER it is the archive that ALCEDO_HOME names", async () => {
  const folder = scratchFolder();
  await (await archive(folder)).close();
  const { status, out } = await alcedo(["audit"], { env: { ALCEDO_HOME: folder } });
  expect([status, out.split("\n")[0]]).toEqual([0, `Archive ${folder}`]);
});

test("an altered row, and a seal that does not fit, are named; status 1", async () => {
  const folder = scratchFolder();
  const opened = await archive(folder);
  opened.file.rows("drop trigger revision_no_update");
  opened.file.rows("update revision set why = 'another' where seq = 2");
  await opened.close();
  const altered = await alcedo(["audit", folder]);
  expect(altered.status).toBe(1);
  expect(altered.out).toContain("✕ the trigger revision_no_update is missing.");
  expect(altered.out).toContain("✕ revision 2 (fibre F-1) does not fit its seal.");
  const sound = scratchFolder();
  await (await archive(sound)).close();
  const { status, out } = await alcedo([
    "audit",
    sound,
    "--seal",
    `3:${"0".repeat(64)}`,
    "--seal",
    `9:${"0".repeat(64)}`,
  ]);
  expect(status).toBe(1);
  expect(out).toContain("✕ revision 3 has another seal than the one that is known.");
  const cut = await alcedo(["audit", sound, "--seal", `9:${"0".repeat(64)}`]);
  expect(cut.out).toContain("✕ revisions 4 to 9 are missing");
});

test("an archive that is open, and none at all, are said in words; status 2, and nothing is made", async () => {
  const folder = scratchFolder();
  const opened = await archive(folder);
  const busy = await alcedo(["audit", folder]);
  await opened.close();
  expect([busy.status, busy.out]).toEqual([2, ""]);
  expect(busy.err.replace(/\s+/g, " ")).toMatch(/open in another process.*The workbench has it open, most likely/);
  const empty = scratchFolder();
  const none = await alcedo(["audit", empty]);
  expect([none.status, readdirSync(empty)]).toEqual([2, []]);
  expect(none.err.replace(/\s+/g, " ")).toContain("There is no archive in");
});

test("a seal in another form is refused with the form", async () => {
  const { status, err } = await alcedo(["audit", ".", "--seal", "3:abc"]);
  expect([status, err]).toEqual([2, expect.stringContaining("64 hexadecimal digits")]);
});
