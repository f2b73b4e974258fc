import { Worker } from "node:worker_threads";
import { run } from "./program.ts";
import { serverProcess } from "./server-process.ts";
import { errorCode, reasonOf } from "./system-error.ts";
import { worldOf } from "./world.ts";

/** Whoever reads through a pipe may stop early (`alcedo evaluate fields | head`): that is no fault. */
for (const stream of [process.stdout, process.stderr])
  stream.on("error", (error) => {
    if (errorCode(error) === "EPIPE") return;
    process.exitCode = 3;
    if (stream === process.stdout) process.stderr.write(`alcedo: the output cannot be written: ${reasonOf(error)}.\n`);
  });

/** The build lays the threads' program beside this one. */
const worker = new URL("./monte-carlo-worker.js", import.meta.url);

/** The workbench's server, as the build lays it into its own folder. */
const server = new URL("../../server/dist/server.js", import.meta.url);

const world = worldOf(process.stdout, process.stderr, process.env, {
  startWorker: (campaign) => new Worker(worker, { workerData: campaign }),
  startServer: async (settings) => serverProcess(server, settings),
});
process.exitCode = await run(process.argv.slice(2), world);
