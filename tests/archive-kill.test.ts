/**
 * A process that keeps readings is killed again and again, at moments that nobody chose: whatever it acknowledged is
 * there. (A kill tests the transaction, not the flushing: against a power cut stands `synchronous = FULL`, asserted.)
 */
import { execFileSync, spawn } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Audit, audit, campaignAt, keepCampaign } from "@alcedo-dosimetry/archive";
import { openArchive } from "@alcedo-dosimetry/archive/folder";
import { build } from "esbuild";
import { expect, test } from "vitest";
import { nodeProgram } from "../scripts/node-program.mjs";
import { root } from "./repository-files.ts";

const KILLS = 15;
const options = { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" };

const columns = ["reading", "condition", "duration_s", "signal_blue", "signal_green"];
const empty = {
  descriptor: {
    name: "invented-console",
    alcedo: {
      version: 1 as const,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon" as const },
    },
    resources: [{ name: "background", path: "dark.csv", alcedo: { series: "background" as const } }],
  },
  tables: { background: { path: "dark.csv", decimal: "." as const, columns, rows: [], lines: [] } },
};

/** Audits a folder from outside, and prints what it finds. */
const AUDIT = `
import { auditFolder } from "@alcedo-dosimetry/archive/folder";
console.log(JSON.stringify(await auditFolder(process.argv[2])));
`;

/** The names and bytes in a folder. */
function stateOf(folder: string) {
  return readdirSync(folder).map((name) => [name, readFileSync(join(folder, name)).toString("base64")] as const);
}

/** Lets the writer live until it has acknowledged so many readings and for some milliseconds more; gives what it said. */
async function killedWriter(script: string, folder: string, after: number, more_ms: number): Promise<string[]> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [script, folder], { stdio: ["ignore", "pipe", "pipe"] });
    let [said, complaints, waiting] = ["", "", false];
    child.stderr.on("data", (chunk) => {
      complaints += String(chunk);
    });
    child.stdout.on("data", (chunk) => {
      said += String(chunk);
      if (waiting || said.split("\n").length <= after) return;
      waiting = true;
      setTimeout(() => child.kill("SIGKILL"), more_ms);
    });
    child.on("close", (_, signal) => {
      if (signal === "SIGKILL") done(said.split("\n").slice(0, -1));
      else fail(new Error(`the writer ended by itself: ${complaints}`));
    });
  });
}

test(`of a process killed ${KILLS} times every acknowledged reading is kept`, async () => {
  const folder = mkdtempSync(join(tmpdir(), "alcedo-archive-kill-"));
  try {
    // beside the sources, so that they find the database's library
    const script = join(root, "tests/.cache", `archive-writer-${process.pid}.mjs`);
    const auditor = join(root, "tests/.cache", `archive-auditor-${process.pid}.mjs`);
    await build({ ...nodeProgram, entryPoints: [join(root, "tests/archive-writer.ts")], outfile: script });
    await build({ ...nodeProgram, stdin: { contents: AUDIT, resolveDir: join(root, "tests") }, outfile: auditor });
    const place = join(folder, "archive");
    const first = await openArchive(place, options);
    await keepCampaign(first, empty, "console mode");
    await first.close();
    const acknowledged: string[] = [];
    for (let kill = 0; kill < KILLS; kill++) {
      acknowledged.push(...(await killedWriter(script, place, 1 + (kill % 7), Math.random() * 30)));
    }
    rmSync(script);
    // a process of its own: only its end shows what its connection does to the log that lies there
    const left = stateOf(place);
    expect(left.map(([name]) => name)).toContain("archive.sqlite-wal");
    const { revisions, faults } = JSON.parse(
      execFileSync(process.execPath, [auditor, place], { encoding: "utf8" }),
    ) as Audit;
    expect(revisions).toBeGreaterThanOrEqual(3 + acknowledged.length);
    expect(faults).toEqual([]);
    expect(stateOf(place)).toEqual(left);
    rmSync(auditor);
    const archive = await openArchive(place, options);
    const { campaign } = await campaignAt(archive, "invented-console");
    const kept = campaign.tables["background"]!.rows.map(([reading]) => reading!);
    expect(acknowledged.length).toBeGreaterThanOrEqual(KILLS);
    expect(acknowledged.filter((reading) => !kept.includes(reading))).toEqual([]);
    // at most one reading of each life was kept and not told
    expect(kept.length - acknowledged.length).toBeLessThanOrEqual(KILLS);
    expect((await audit(archive)).faults).toEqual([]);
    await archive.close();
  } finally {
    rmSync(folder, { recursive: true });
  }
});
