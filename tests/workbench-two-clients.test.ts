/**
 * Two people work on one campaign at once: nobody's change is lost, each hears of the other's, and where both have written
 * into the same cell the second is told, not overwritten.
 */
import { randomUUID } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Campaign, type Edit, rebase } from "@alcedo-dosimetry/campaign";
import { afterAll, beforeAll, expect, test } from "vitest";
import { bundleServer, Client, type ServerBundle, type ServerProcess } from "./workbench-process.ts";

const ROWS = 20;
const columns = ["reading", "condition", "duration_s", "signal_blue", "signal_green", "note"];
/** Invented. */
const campaign: Campaign = {
  descriptor: {
    name: "invented-shared",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon" },
    },
    resources: [{ name: "background", path: "dark.csv", alcedo: { series: "background" } }],
  },
  tables: {
    background: {
      ...{ path: "dark.csv", decimal: ".", columns },
      rows: Array.from({ length: ROWS }, (_, row) => [`b${row}`, "dark", "60", "0.01", "0.01", ""]),
      lines: Array.from({ length: ROWS }, (_, row) => row + 2),
    },
  },
};

let bundle: ServerBundle;
let server: ServerProcess;
const home = mkdtempSync(join(tmpdir(), "alcedo-workbench-two-"));
let clients: readonly [Client, Client];

beforeAll(async () => {
  bundle = await bundleServer();
  server = await bundle.start(home);
  const [doe, roe] = [new Client(server.address), new Client(server.address)];
  const passphrase = "invented words in a row";
  await doe.ask("POST", "first", { token: server.token, id: "j.doe", name: "J. Doe", passphrase });
  const { json } = await doe.ask("POST", "people", { id: "a.roe", name: "A. Roe" });
  const token = String(json["link"]).split("/").at(-1);
  await roe.ask("POST", "first", { token, id: "a.roe", name: "A. Roe", passphrase });
  clients = [doe, roe];
});

afterAll(async () => {
  const status = await server.stop();
  bundle.remove();
  rmSync(home, { recursive: true, force: true });
  expect(status).toBe(0);
});

interface Kept {
  readonly revision: number;
  readonly campaign: Campaign;
}
const open = async (client: Client) => (await client.ask("GET", "campaigns/invented-shared")).json as unknown as Kept;
const note = (row: number, text: string): Edit => ({ cell: { table: "background", row, column: "note", text } });

/** Makes an edit to what the client has open; where somebody was faster, carries it over to what is there now. */
async function edit(client: Client, base: Kept, edits: readonly Edit[]): Promise<{ kept: Kept; conflicts: number }> {
  let [mine, at, conflicts] = [edits, base, 0];
  for (;;) {
    const body = { after: at.revision, edits: mine, why: "typed", key: randomUUID() };
    const { status } = await client.ask("POST", "campaigns/invented-shared/edits", body);
    const now = await open(client);
    if (status === 200) return { kept: now, conflicts };
    expect(status).toBe(409);
    const carried = rebase(at.campaign, mine, now.campaign);
    conflicts += carried.conflicts.length;
    if (carried.edits.length === 0) return { kept: now, conflicts };
    [mine, at] = [carried.edits, now];
  }
}

test("two people who type into one campaign lose nothing, and each hears of every change", async () => {
  const [doe, roe] = clients;
  const stop = new AbortController();
  const heard = [new Set<number>(), new Set<number>()] as const;
  for (const [client, own] of [[doe, heard[0]] as const, [roe, heard[1]] as const])
    await client.listen(stop.signal, (event) => own.add((event["campaign"] as { revision: number }).revision));
  await doe.ask("POST", "campaigns", { campaign, why: "first import" });
  const type = async (client: Client, rows: readonly number[], text: string) => {
    let kept = await open(client);
    for (const row of rows) kept = (await edit(client, kept, [note(row, `${text} ${row}`)])).kept;
  };
  const even = Array.from({ length: ROWS / 2 }, (_, number) => 2 * number);
  await Promise.all([
    type(doe, even, "Doe"),
    type(
      roe,
      even.map((row) => row + 1),
      "Roe",
    ),
  ]);
  const { campaign: now } = await open(doe);
  expect(now.tables["background"]!.rows.map((row) => row[5])).toEqual(
    Array.from({ length: ROWS }, (_, row) => `${row % 2 === 0 ? "Doe" : "Roe"} ${row}`),
  );
  const history = (await doe.ask("GET", "campaigns/invented-shared/history")).json as unknown as {
    revision: number;
    who: string;
  }[];
  expect(history.length).toBe(1 + ROWS);
  expect(new Set(history.map(({ who }) => who))).toEqual(new Set(["j.doe", "a.roe"]));
  for (let wait = 0; wait < 200 && heard.some(({ size }) => size < history.length); wait++) await pause(10);
  for (const own of heard) expect([...own].sort((a, b) => a - b)).toEqual(history.map(({ revision }) => revision));
  stop.abort();
});

test("two texts for one cell are a conflict: the second is refused with the revision, and the first stays", async () => {
  const [doe, roe] = clients;
  const both = await open(doe);
  const send = async (client: Client, text: string) =>
    client.ask("POST", "campaigns/invented-shared/edits", {
      after: both.revision,
      edits: [note(0, text)],
      why: "typed",
      key: randomUUID(),
    });
  const answers = await Promise.all([send(doe, "by Doe"), send(roe, "by Roe")]);
  expect(answers.map(({ status }) => status).sort((a, b) => a - b)).toEqual([200, 409]);
  const [won, lost] = answers[0].status === 200 ? ["by Doe", "by Roe"] : ["by Roe", "by Doe"];
  const refused = answers.find(({ status }) => status === 409)!.json;
  const now = await open(roe);
  expect(refused).toMatchObject({ type: "urn:alcedo:problem:conflict", revision: now.revision });
  expect(now.campaign.tables["background"]!.rows[0]![5]).toBe(won);
  expect(rebase(both.campaign, [note(0, lost)], now.campaign)).toMatchObject({
    conflicts: [{ table: "background", reading: "b0", column: "note", mine: lost, theirs: won }],
  });
});

test("a reading from a console needs no revision: it comes to the others' changes", async () => {
  const [doe, roe] = clients;
  const before = await open(doe);
  const add = async (client: Client, reading: string) =>
    client.ask("POST", "campaigns/invented-shared/readings", {
      table: "background",
      cells: { reading, condition: "dark" },
      why: "console",
      key: randomUUID(),
    });
  const answers = await Promise.all(
    ["x1", "x2", "x3", "x4"].map(async (name, number) => add(number % 2 === 0 ? doe : roe, name)),
  );
  expect(answers.map(({ status }) => status)).toEqual([200, 200, 200, 200]);
  const rows = (await open(doe)).campaign.tables["background"]!.rows;
  expect(new Set(rows.slice(ROWS).map(([name]) => name))).toEqual(new Set(["x1", "x2", "x3", "x4"]));
  expect(rows.length).toBe(ROWS + 4);
  expect((await edit(roe, before, [note(2, "carried over")])).conflicts).toBe(0);
});
