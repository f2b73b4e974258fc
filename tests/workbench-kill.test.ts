/**
 * The workbench's server is killed again and again while readings stream in, at moments that nobody chose: whatever it has
 * acknowledged is there afterwards, once, and the audit passes. (A kill tests the transaction, not the flushing: against a
 * power cut stands `synchronous = FULL`, asserted in packages/archive.)
 *
 * 15 kills in `npm test`; `ALCEDO_KILLS=300` makes more of them (`npm run test:long`).
 */
import { randomUUID } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { audit, campaignAt } from "@alcedo-dosimetry/archive";
import { openArchive } from "@alcedo-dosimetry/archive/folder";
import { expect, test } from "vitest";
import { bundleServer, Client, type ServerBundle } from "./workbench-process.ts";

const KILLS = Number(process.env["ALCEDO_KILLS"] ?? 15);
/** Readings that are on their way at a time, as of a console and three others. */
const AT_A_TIME = 4;

const columns = ["reading", "condition", "duration_s", "signal_blue", "signal_green"];
/** Invented. */
const campaign = {
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
const person = { id: "j.doe", name: "J. Doe", passphrase: "invented words in a row" };

/** A reading on its way, under the key of its first sending. */
interface Sent {
  readonly reading: string;
  readonly key: string;
}

/** What the clients were told, over all lives of the server. */
class Console {
  readonly acknowledged: string[] = [];
  /** Sent and not acknowledged: sent again, under the same key, in the next life. */
  readonly open: Sent[] = [];
  #number = 0;

  next(): Sent {
    return this.open.shift() ?? { reading: `b${++this.#number}`, key: randomUUID() };
  }
}

/** Lets a server live until it has acknowledged so many readings, and for some milliseconds more. */
async function oneLife(server: ServerBundle, home: string, console: Console, after: number, more_ms: number) {
  const { address, token, kill } = await server.start(home);
  const client = new Client(address);
  if (token !== undefined) expect((await client.ask("POST", "first", { token, ...person })).status).toBe(200);
  else expect((await client.ask("POST", "login", { id: person.id, passphrase: person.passphrase })).status).toBe(200);
  await client.ask("POST", "campaigns", { campaign, why: "console mode" });
  const life = { over: false, told: 0 };
  const isOver = () => life.over;
  let death: Promise<void> | undefined;
  const send = async () => {
    while (!isOver()) {
      const sent = console.next();
      const cells = {
        reading: sent.reading,
        condition: "dark",
        duration_s: "60",
        signal_blue: "0.01",
        signal_green: "0.01",
      };
      try {
        const { status, json } = await client.ask("POST", "campaigns/invented-console/readings", {
          table: "background",
          cells,
          why: "console",
          key: sent.key,
        });
        if (status !== 200) throw new Error(`${status}: ${JSON.stringify(json)}`);
        console.acknowledged.push(sent.reading);
        life.told++;
      } catch (error) {
        console.open.push(sent);
        if (!isOver()) throw error;
      }
      if (life.told > after)
        death ??= pause(more_ms).then(async () => {
          life.over = true;
          await kill();
        });
    }
  };
  await Promise.all(Array.from({ length: AT_A_TIME }, send));
  await death;
}

async function killed(entry: string | undefined, kills: number) {
  const home = mkdtempSync(join(tmpdir(), "alcedo-workbench-kill-"));
  const server = await bundleServer(entry);
  try {
    const console = new Console();
    for (let kill = 0; kill < kills; kill++) await oneLife(server, home, console, kill % 7, Math.random() * 120);
    const archive = await openArchive(home, { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" });
    const kept = (await campaignAt(archive, "invented-console")).campaign.tables["background"]!.rows.map(
      ([name]) => name!,
    );
    const { faults } = await audit(archive);
    await archive.close();
    return { kept, faults, ...console };
  } finally {
    server.remove();
    rmSync(home, { recursive: true, force: true });
  }
}

test(
  `of a server killed ${KILLS} times every acknowledged reading is kept, once, and the audit passes`,
  async () => {
    const { acknowledged, kept, faults, open } = await killed(undefined, KILLS);
    console.log(
      `${KILLS} kills: ${acknowledged.length} readings acknowledged, ${kept.length} kept, ${open.length} open at the end`,
    );
    expect(acknowledged.length).toBeGreaterThanOrEqual(KILLS);
    expect(acknowledged.filter((reading) => !kept.includes(reading))).toEqual([]);
    expect(new Set(kept).size).toBe(kept.length);
    expect(new Set(acknowledged).size).toBe(acknowledged.length);
    // beyond the acknowledged there can only be what was on its way at the last kill
    expect(kept.length - acknowledged.length).toBeLessThanOrEqual(AT_A_TIME);
    expect(faults).toEqual([]);
  },
  120_000 + KILLS * 20_000,
);

test("a server that acknowledges before it commits is found out", async () => {
  const { acknowledged, kept } = await killed("tests/workbench-early.ts", 8);
  const lost = acknowledged.filter((reading) => !kept.includes(reading));
  console.log(`planted: ${acknowledged.length} acknowledged, ${lost.length} of them lost`);
  expect(lost.length).toBeGreaterThan(0);
}, 300_000);
