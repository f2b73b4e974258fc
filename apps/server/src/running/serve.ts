import { readFileSync } from "node:fs";
import { openArchive } from "@alcedo-dosimetry/archive/folder";
import type { Work } from "../jobs/threads.ts";
import { peopleOf } from "../people.ts";
import { Links } from "../security/links.ts";
import { createServer } from "../server.ts";
import { dailyBackups } from "./backups.ts";
import { isoTime } from "./iso-time.ts";
import type { Settings } from "./settings.ts";
import { takeIn } from "./take-in.ts";

/** A server that listens. */
export interface Running {
  /** What people open. */
  readonly address: string;
  /** Where the first person sets a passphrase; present where nobody is there yet. */
  readonly first?: string;
  /** Ends it: what is under way is answered, the archive closed. */
  readonly stop: () => Promise<void>;
}

/** What a server needs besides its settings. */
export interface Surroundings {
  readonly work: Work;
  /** The folder of the built page. */
  readonly page: string;
  readonly now: () => number;
  /** A line for whoever looks after the server. */
  readonly say: (line: string) => void;
}

/** Opens the archive, serves it, and backs it up. */
export async function serve(settings: Settings, { work, page, now, say }: Surroundings): Promise<Running> {
  const { tls, proxy, hosts, host, port, home } = settings;
  const keys = tls && { key: new Uint8Array(readFileSync(tls.key)), cert: new Uint8Array(readFileSync(tls.cert)) };
  const archive = await openArchive(home, { clock: () => isoTime(now()), who: "alcedo" });
  try {
    const people = peopleOf(archive);
    const taken = settings.takeIn === undefined ? undefined : await takeIn(archive, settings.takeIn);
    const links = new Links(now);
    let asked = now();
    const server = await createServer({
      ...{ archive, people, work, links, page, now, hosts, simulated: taken?.simulated ?? false },
      ...(keys && { tls: keys }),
      ...(proxy !== undefined && { proxy }),
      fault: (error, request) => say(`fault of the program at ${request}: ${stackOf(error)}`),
    });
    server.http.addHook("onRequest", (_request, _reply, next) => {
      asked = now();
      next();
    });
    await server.http.listen({ host, port });
    const address = settings.url ?? `${tls ? "https" : "http"}://${shown(host)}:${portOf(server.http)}`;
    const noBackups = dailyBackups(archive, {
      ...{ work, now, lastAsked: () => asked },
      failed: (error) => say(`No backup was made: ${error instanceof Error ? error.message : String(error)}`),
    });
    const nobody = (await people.all()).length === 0;
    return {
      address: `${address}/`,
      ...(nobody && { first: `${address}/#/first/${links.create().token}` }),
      async stop() {
        await noBackups();
        await server.close();
        await archive.close();
      },
    };
  } catch (error) {
    await archive.close();
    throw error;
  }
}

function portOf(http: { server: { address(): unknown } }): number {
  return (http.server.address() as { port: number }).port;
}

function shown(host: string): string {
  return host.includes(":") && !host.startsWith("[") ? `[${host}]` : host;
}

function stackOf(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
