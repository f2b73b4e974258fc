/**
 * A server with a planted fault, for the test of killed servers alone: it says that a change is kept before the change is on
 * the disk. The test must find readings that were acknowledged and are gone.
 */
import { setTimeout as pause } from "node:timers/promises";
import type { Archive } from "@alcedo-dosimetry/archive";
import { openArchive } from "@alcedo-dosimetry/archive/folder";
import { peopleOf } from "../apps/server/src/people.ts";
import { Links } from "../apps/server/src/security/links.ts";
import { createServer } from "../apps/server/src/server.ts";
import { inThisThread } from "../apps/server/src/testing/in-this-thread.ts";

/** The commit comes so much later than the answer. */
const LATE_ms = 30;

const now = () => Date.now();
const archive = await openArchive(process.env["ALCEDO_HOME"]!, {
  clock: () => new Date().toISOString(),
  who: "alcedo",
});
const links = new Links(now);
const people = peopleOf(archive);
const server = await createServer({
  ...{ archive: early(archive), people, links, now, work: inThisThread, hosts: ["127.0.0.1"] },
  fault: (error) => console.error(error),
});
await server.http.listen({ host: "127.0.0.1", port: 0 });
const { port } = server.http.server.address() as { port: number };
const address = `http://127.0.0.1:${port}`;
console.log(`The workbench is at ${address}/\nThe archive is in ${archive.folder}`);
if ((await people.all()).length === 0) console.log(`works once:\n  ${address}/#/first/${links.create().token}`);

function early(right: Archive): Archive {
  const transaction = () => {
    const begun = right.db.transaction();
    const execute = async (work: (tx: never) => Promise<unknown>) =>
      new Promise((acknowledge, fail) => {
        const committed = begun.execute(async (tx) => {
          const result = await work(tx as never);
          acknowledge(result);
          await pause(LATE_ms);
          return result;
        });
        committed.catch(fail);
      });
    return { execute };
  };
  const db = new Proxy(right.db, {
    get: (target, name) => (name === "transaction" ? transaction : (Reflect.get(target, name) as unknown)),
  });
  return { ...right, db };
}
