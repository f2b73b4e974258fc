/** The workbench's server as a process of its own, for tests: bundled from the sources, started, killed. */
import { type ChildProcess, spawn } from "node:child_process";
import { rmSync } from "node:fs";
import { join, relative } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { buildServer } from "../scripts/build-server.mjs";
import { root } from "./repository-files.ts";

/** A server that runs. */
export interface ServerProcess {
  readonly address: string;
  readonly pid: number;
  /** The token of the one-time link; undefined where somebody is known already. */
  readonly token: string | undefined;
  /** Ends it as a power cut does, at once. */
  readonly kill: () => Promise<void>;
  /** Asks it to stop; gives its exit status. */
  readonly stop: () => Promise<number | null>;
}

/** A bundle of the server. */
export interface ServerBundle {
  readonly start: (home: string, env?: Readonly<Record<string, string>>) => Promise<ServerProcess>;
  readonly remove: () => void;
}

/** A server that ended before it listened. */
export class ServerEnded extends Error {
  readonly status: number | null;

  constructor(status: number | null, said: string) {
    super(said);
    this.status = status;
  }
}

/**
 * Bundles the server.
 *
 * @param entry the program, from the repository's root
 */
export async function bundleServer(entry = "apps/server/src/main.ts"): Promise<ServerBundle> {
  // beside the sources, so that it finds the libraries that are not bundled
  const folder = join(root, "tests/.cache", `workbench-${process.pid}-${entry.replaceAll(/\W+/g, "-")}`);
  await buildServer({ folder: relative(root, folder), entry });
  return {
    start: async (home, env = {}) => started(join(folder, "server.js"), { ALCEDO_HOME: home, PORT: "0", ...env }),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

async function started(script: string, env: Readonly<Record<string, string>>): Promise<ServerProcess> {
  const child = spawn(process.execPath, [script], {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, ...env },
  });
  let said = "";
  const ended = new Promise<number | null>((done) => {
    child.once("close", (status) => done(status));
  });
  const address = await new Promise<string>((done, fail) => {
    const hear = (chunk: Buffer) => {
      said += String(chunk);
      const [, own] = /The workbench is at (http\S+)\/\nThe archive is in .*\n/.exec(said) ?? [];
      if (own !== undefined) done(own);
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    void ended.then((status) => fail(new ServerEnded(status, said)));
  });
  // the link follows in the next lines
  for (let wait = 0; wait < 20 && !said.includes("works once"); wait++) await pause(5);
  const [, token] = /#\/first\/(\S+)\n/.exec(said) ?? [];
  return {
    ...{ address, token, pid: child.pid! },
    kill: async () => end(child, ended, "SIGKILL").then(() => undefined),
    stop: async () => end(child, ended, "SIGTERM"),
  };
}

async function end(child: ChildProcess, ended: Promise<number | null>, signal: NodeJS.Signals) {
  child.kill(signal);
  return ended;
}

/** A person's browser, as far as the API sees it. */
export class Client {
  readonly #address: string;
  #cookie = "";

  constructor(address: string) {
    this.#address = address;
  }

  /** Asks; gives status and JSON. @throws TypeError where nobody answers */
  async ask(
    method: "GET" | "POST",
    path: string,
    body?: object,
  ): Promise<{ status: number; json: Record<string, unknown> }> {
    const answer = await fetch(`${this.#address}/api/${path}`, {
      method,
      headers: { cookie: this.#cookie, ...(body && { "content-type": "application/json" }) },
      ...(body && { body: JSON.stringify(body) }),
    });
    const cookie = answer.headers.get("set-cookie");
    if (cookie !== null) this.#cookie = cookie.split(";")[0]!;
    const text = await answer.text();
    return { status: answer.status, json: (text === "" ? {} : JSON.parse(text)) as Record<string, unknown> };
  }

  /** Listens to live events until the signal; each goes to the work. */
  async listen(signal: AbortSignal, hear: (event: Record<string, unknown>) => void): Promise<void> {
    const answer = await fetch(`${this.#address}/api/events`, { headers: { cookie: this.#cookie }, signal });
    if (answer.status !== 200) throw new Error(`events: ${answer.status}`);
    const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader();
    const read = async () => {
      let text = "";
      for (;;) {
        const { value, done } = await reader.read();
        if (done) return;
        text += value;
        const parts = text.split("\n\n");
        text = parts.pop()!;
        for (const part of parts) {
          const data = /^data: (.*)$/m.exec(part)?.[1];
          if (data !== undefined) hear(JSON.parse(data) as Record<string, unknown>);
        }
      }
    };
    read().catch((error: unknown) => {
      if (!signal.aborted) throw error;
    });
  }
}
