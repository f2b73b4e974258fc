import { networkInterfaces } from "node:os";
import { fileURLToPath } from "node:url";
import { threads } from "./jobs/threads.ts";
import { refusal } from "./running/refusal.ts";
import { type Running, serve } from "./running/serve.ts";
import { type Settings, settingsFrom } from "./running/settings.ts";
import { isLoopback } from "./security/hosts.ts";

/** The build lays the threads' program beside this one, and the page in its own folder. */
const worker = new URL("./worker.js", import.meta.url);
const page = fileURLToPath(new URL("../../web/dist", import.meta.url));

const say = (line: string) => process.stderr.write(`alcedo: ${line}\n`);

process.exitCode = await main();

async function main(): Promise<number> {
  let settings: Settings | undefined;
  const work = threads(worker);
  let running: Running;
  try {
    settings = settingsFrom(process.env);
    running = await serve(settings, { work, page, now: () => Date.now(), say });
  } catch (error) {
    await work.close();
    const why = refusal(error, settings ?? { home: "", host: "", port: 0 });
    if (why === undefined) throw error;
    say(why);
    return 2;
  }
  if (isLoopback(settings.host) && !hasLoopback()) {
    say(
      "this machine's loopback interface is down, so that no browser reaches the address (on Linux: ip link set lo up).",
    );
  }
  process.stdout.write(`The workbench is at ${running.address}\n`);
  process.stdout.write(`The archive is in ${settings.home}\n`);
  if (running.first !== undefined) {
    process.stdout.write(
      `Nobody is known here yet. Become the first person with this link, which works once:\n  ${running.first}\n`,
    );
  }
  await stopped();
  await running.stop();
  return 0;
}

/** Whether the interface is up by which a machine reaches itself. */
function hasLoopback(): boolean {
  return Object.values(networkInterfaces()).some((addresses) => addresses?.some(({ internal }) => internal));
}

/** A word to stop that comes twice within so long is one: a terminal tells this process, and so does the one that started it. */
const SAME_WORD_ms = 1000;

/** Waits for the word to stop; said a second time, it stops at once. */
async function stopped(): Promise<void> {
  return new Promise((done) => {
    let first: number | undefined;
    const stop = () => {
      if (first !== undefined && Date.now() - first > SAME_WORD_ms) process.exit(1);
      first ??= Date.now();
      done();
    };
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, stop);
  });
}
