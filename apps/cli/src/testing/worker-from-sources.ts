import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { build } from "esbuild";
import type { StartWorker } from "../worker-pool.ts";

/** Packages in CommonJS call `require`, which a module has to make for itself. */
const banner = `import { createRequire as r_ } from "node:module"; const require = r_(import.meta.url);`;

/** Threads from the sources as they stand: a thread's Node reads no TypeScript, so they are bundled first, as in the build. */
export async function workerFromSources(): Promise<StartWorker> {
  const outfile = join(mkdtempSync(join(tmpdir(), "alcedo-worker-")), "monte-carlo-worker.mjs");
  await build({
    entryPoints: [fileURLToPath(new URL("../monte-carlo-worker.ts", import.meta.url))],
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20",
    banner: { js: banner },
    logLevel: "error",
  });
  return (campaign) => new Worker(outfile, { workerData: campaign });
}
