import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Archive } from "@alcedo-dosimetry/archive";
import { type ArchiveFolder, openArchive } from "@alcedo-dosimetry/archive/folder";
import type { InjectOptions, LightMyRequestResponse } from "fastify";
import { onTestFinished } from "vitest";
import { peopleOf } from "../people.ts";
import { isoTime } from "../running/iso-time.ts";
import { Links } from "../security/links.ts";
import { createServer, type ServerOptions, type WorkbenchServer } from "../server.ts";
import { inThisThread } from "./in-this-thread.ts";

/** A passphrase that the tests' people have. */
export const PASSPHRASE = "invented words in a row";

/** What a passphrase of the tests costs to try: next to nothing. */
const CHEAP = { memory_KiB: 64, passes: 1, lanes: 1 };

/** Where the tests' requests say that they go. */
export const HOST = "127.0.0.1:4270";

/** A server for one test, on an archive of its own. */
export interface TestServer extends WorkbenchServer {
  readonly archive: ArchiveFolder;
  readonly links: Links;
  /** What the server has called faults of the program. */
  readonly faults: unknown[];
  /** Lets time go by. */
  readonly wait: (ms: number) => void;
  /** Asks as a page of the server's own does, logged in where a cookie is given. */
  readonly ask: (method: "GET" | "POST", url: string, more?: Asking) => Promise<LightMyRequestResponse>;
  /** Makes a person and logs them in; gives the cookie. */
  readonly login: (id?: string) => Promise<string>;
}

/** What a request holds besides its address. */
interface Asking {
  readonly cookie?: string;
  readonly body?: object | Uint8Array | string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** A temporary folder, removed after the test. */
function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "alcedo-server-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A built page, in short. */
function pageFolder(): string {
  const folder = join(temporaryFolder(), "page");
  mkdirSync(join(folder, "assets"), { recursive: true });
  writeFileSync(join(folder, "index.html"), "<!doctype html><title>page</title>");
  writeFileSync(join(folder, "assets/main-1.js"), "export {};");
  writeFileSync(join(folder, "..", "secret.txt"), "secret");
  return folder;
}

/**
 * A server on an archive in a temporary folder.
 *
 * @param around puts another archive in the place of the folder's: one that fails, say
 */
export async function testServer(
  options: Partial<ServerOptions> = {},
  around: (archive: ArchiveFolder) => Archive = (archive) => archive,
): Promise<TestServer> {
  let time = Date.UTC(2026, 2, 14, 8);
  const now = () => time;
  const archive = await openArchive(temporaryFolder(), { clock: () => isoTime(now()), who: "alcedo" });
  const links = new Links(now);
  const faults: unknown[] = [];
  const wait = (ms: number) => {
    time += ms;
  };
  const server = await createServer({
    ...{
      archive: around(archive),
      people: peopleOf(archive, CHEAP),
      work: inThisThread,
      links,
      page: pageFolder(),
      now,
    },
    ...{ hosts: ["127.0.0.1", "localhost"], fault: (error) => faults.push(error), checkAnswers: true },
    ...options,
  });
  onTestFinished(async () => {
    await server.close();
    await archive.close();
  });
  const ask: TestServer["ask"] = async (method, url, { cookie, body, headers = {} } = {}) => {
    const request: InjectOptions = { method, url };
    const type = body instanceof Uint8Array ? "application/octet-stream" : "application/json";
    return server.http.inject({
      ...request,
      headers: {
        ...{ host: HOST, ...(method === "POST" && { origin: `http://${HOST}` }) },
        ...(cookie !== undefined && { cookie }),
        ...(body !== undefined && { "content-type": type }),
        ...headers,
      },
      ...(body !== undefined && { payload: body instanceof Uint8Array ? Buffer.from(body) : body }),
    });
  };
  const login = async (id = "j.doe") => {
    const body = { token: links.create().token, id, name: `Person ${id}`, passphrase: PASSPHRASE };
    const { headers, statusCode, body: text } = await ask("POST", "/api/first", { body });
    if (statusCode !== 200) throw new Error(text);
    return String(headers["set-cookie"]).split(";")[0]!;
  };
  return { ...server, archive, links, faults, wait, ask, login };
}
