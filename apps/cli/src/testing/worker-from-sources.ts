import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { bundle } from "../../../../scripts/run-bundled.mjs";
import type { StartWorker } from "../worker-pool.ts";

/** Threads from the sources as they stand: a thread's Node reads no TypeScript, so they are bundled first, as in the build. */
export async function workerFromSources(): Promise<StartWorker> {
  const outfile = join(mkdtempSync(join(tmpdir(), "alcedo-worker-")), "monte-carlo-worker.mjs");
  await bundle(outfile, { entryPoints: [fileURLToPath(new URL("../monte-carlo-worker.ts", import.meta.url))] });
  return (campaign) => new Worker(outfile, { workerData: campaign });
}
