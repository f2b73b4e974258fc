/** What stands in the way of the workbench's server is said when it starts, with the way out, and nothing is made worse. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { audit } from "@alcedo-dosimetry/archive";
import { openArchive, restoreBackup } from "@alcedo-dosimetry/archive/folder";
import { afterAll, beforeAll, expect, test } from "vitest";
import { bundleServer, Client, type ServerBundle, ServerEnded } from "./workbench-process.ts";

let bundle: ServerBundle;
const folder = mkdtempSync(join(tmpdir(), "alcedo-workbench-start-"));
beforeAll(async () => {
  bundle = await bundleServer();
});
afterAll(() => {
  bundle.remove();
  rmSync(folder, { recursive: true, force: true });
});

/** What a server says that does not start; its exit status is 2. */
async function refusal(home: string, env: Readonly<Record<string, string>> = {}): Promise<string> {
  try {
    const server = await bundle.start(home, env);
    await server.stop();
    throw new Error("it started");
  } catch (error) {
    if (!(error instanceof ServerEnded)) throw error;
    expect(error.status).toBe(2);
    expect(error.message).not.toMatch(/\n\s+at /); // no stack: it is no fault of the program
    return error.message;
  }
}

/** An archive in a folder of its own, with one person. */
async function someArchive(name: string): Promise<string> {
  const home = join(folder, name);
  const server = await bundle.start(home);
  const client = new Client(server.address);
  const person = { id: "j.doe", name: "J. Doe", passphrase: "invented words in a row" };
  expect((await client.ask("POST", "first", { token: server.token, ...person })).status).toBe(200);
  expect(await server.stop()).toBe(0);
  return home;
}

test("the first start makes the folder, and says where the first person sets a passphrase; the next knows that person", async () => {
  const home = join(folder, "first", "deep");
  const first = await bundle.start(home);
  expect(first.token).toMatch(/^[\w-]{43}$/);
  expect(first.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
  const person = { id: "j.doe", name: "J. Doe", passphrase: "invented words in a row" };
  await new Client(first.address).ask("POST", "first", { token: first.token, ...person });
  expect(await first.stop()).toBe(0);
  const second = await bundle.start(home);
  expect(second.token).toBeUndefined();
  const client = new Client(second.address);
  expect((await client.ask("POST", "login", { id: "j.doe", passphrase: person.passphrase })).status).toBe(200);
  await second.stop();
});

test("every start makes a backup, proven beside the work, which can be restored", async () => {
  const home = await someArchive("backed-up");
  const server = await bundle.start(home);
  const kept = join(home, "backups");
  const backups = () => (existsSync(kept) ? readdirSync(kept) : []).filter((name) => name.startsWith("revision-"));
  for (let wait = 0; wait < 600 && backups().length === 0; wait++) await pause(50);
  await server.stop();
  const [newest] = backups().sort().reverse();
  const target = join(folder, "restored");
  const options = { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" };
  expect((await restoreBackup(join(kept, newest!), target, options)).faults).toEqual([]);
});

test("a folder that another server has open is refused, and that one goes on", async () => {
  const home = join(folder, "shared");
  const server = await bundle.start(home);
  expect(await refusal(home)).toMatch(
    /The archive in .*shared does not open\. .*another process.*Close that one first/s,
  );
  expect((await new Client(server.address).ask("GET", "openapi.json")).status).toBe(200);
  await server.stop();
});

test("a port that is taken is named", async () => {
  const other = createServer();
  await new Promise<void>((done) => {
    other.listen(0, "127.0.0.1", done);
  });
  const { port } = other.address() as { port: number };
  expect(await refusal(join(folder, "port"), { PORT: `${port}` })).toMatch(
    new RegExp(`Port ${port} is taken: another workbench may run there already`),
  );
  other.close();
  // the archive is free again
  const archive = await openArchive(join(folder, "port"), { clock: () => "2026-03-14T08:00:00Z", who: "R. Tester" });
  expect((await audit(archive)).faults).toEqual([]);
  await archive.close();
});

test("an address that others reach is refused without encryption, before anything is opened", async () => {
  const home = join(folder, "open");
  expect(await refusal(home, { HOST: "0.0.0.0" })).toMatch(/unencrypted.*ALCEDO_URL.*ALCEDO_TLS_KEY/s);
  expect(readdirSync(folder)).not.toContain("open");
});

test("a damaged database is refused, and stays as it is to the byte", async () => {
  const home = await someArchive("damaged");
  const file = join(home, "archive.sqlite");
  const bytes = readFileSync(file);
  bytes.fill(0xa5, 4096, 3 * 4096);
  writeFileSync(file, bytes);
  expect(await refusal(home)).toMatch(/does not open\. .*(damaged|not a database).*restore the newest backup/is);
  expect(readFileSync(file).equals(bytes)).toBe(true);
  writeFileSync(file, "this is no database, whatever it is called ".repeat(100));
  expect(await refusal(home)).toMatch(/not a database.*restore the newest backup/is);
});
