/**
 * The workbench's server over an hour of use, compressed: one edit a second as one person types, and with them what a page
 * asks besides. Its memory stays flat, and an answer at the end takes no longer than one at the beginning, within reason.
 *
 * A few minutes' worth in `npm test`; `ALCEDO_SOAK_EDITS=3600` is the hour (`npm run test:long`).
 */
import { randomUUID } from "node:crypto";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { memoryFolder, readFolder } from "@alcedo-dosimetry/exchange";
import { expect, test } from "vitest";
import { root } from "./repository-files.ts";
import { bundleServer, Client } from "./workbench-process.ts";

const EDITS = Number(process.env["ALCEDO_SOAK_EDITS"] ?? 240);
const QUARTERS = 4;

/** Megabytes that a process holds in memory (Linux). */
function resident_MB(pid: number): number {
  const [, kB] = /^VmRSS:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, "utf8")) ?? [];
  return Number(kB) / 1024;
}

function demonstration() {
  const folder = join(root, "examples/demonstration");
  const names = ["datapackage.json", "background.csv", "separation.csv", "calibration.csv", "output-factors.csv"];
  const files = new Map(names.map((name) => [name, new Uint8Array(readFileSync(join(folder, name)))]));
  return readFolder(memoryFolder("demonstration", files)).campaign!;
}

test(
  `over ${EDITS} edits the server's memory stays flat`,
  async ({ skip }) => {
    if (!existsSync("/proc/self/status")) skip("the system does not tell how much memory a process holds");
    const home = mkdtempSync(join(tmpdir(), "alcedo-workbench-soak-"));
    const bundle = await bundleServer();
    const server = await bundle.start(home);
    try {
      const client = new Client(server.address);
      const person = { id: "j.doe", name: "J. Doe", passphrase: "invented words in a row" };
      await client.ask("POST", "first", { token: server.token, ...person });
      const campaign = demonstration();
      const { name } = campaign.descriptor;
      const kept = await client.ask("POST", "campaigns", { campaign, why: "first import" });
      let after = Number(kept.json["revision"]);
      const listened = new AbortController();
      await client.listen(listened.signal, () => undefined);
      const rows = campaign.tables["separation"]!.rows.length;
      const quarters: { MB: number; ms: number }[] = [];
      const times: number[] = [];
      for (let number = 1; number <= EDITS; number++) {
        const cell = { table: "separation", row: number % rows, column: "note", text: `looked at ${number}` };
        const begun = performance.now();
        const { status, json } = await client.ask("POST", `campaigns/${name}/edits`, {
          after,
          edits: [{ cell }],
          why: "typed",
          key: randomUUID(),
        });
        times.push(performance.now() - begun);
        expect(status).toBe(200);
        after = Number(json["revision"]);
        if (number % 20 === 0) {
          expect((await client.ask("POST", `campaigns/${name}/evaluation`, { after })).status).toBe(200);
          for (const path of ["campaigns", "fibres", `campaigns/${name}`, `campaigns/${name}/history`])
            expect((await client.ask("GET", path)).status).toBe(200);
          const again = new AbortController();
          await client.listen(again.signal, () => undefined);
          again.abort();
        }
        if (number % (EDITS / QUARTERS) === 0) {
          const sorted = times.splice(0).sort((a, b) => a - b);
          quarters.push({ MB: resident_MB(server.pid), ms: sorted[Math.floor(sorted.length / 2)]! });
        }
      }
      const line = quarters.map(({ MB, ms }) => `${MB.toFixed(0)} MB, ${ms.toFixed(1)} ms an edit`).join("; ");
      console.log(`${EDITS} edits, by quarters: ${line}`);
      const [first, last] = [quarters[0]!, quarters.at(-1)!];
      // what the engine keeps in reserve comes and goes by some tens of megabytes
      expect(last.MB).toBeLessThan(1.25 * first.MB + 50);
      listened.abort();
      expect((await client.ask("GET", "audit")).json["faults"]).toEqual([]);
      expect(await server.stop()).toBe(0);
    } finally {
      await server.kill();
      bundle.remove();
      rmSync(home, { recursive: true, force: true });
    }
  },
  120_000 + EDITS * 1000,
);
