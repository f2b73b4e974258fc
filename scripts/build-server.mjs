/**
 * The workbench's server: `apps/server/dist/server.js`, and beside it `worker.js`, what its threads run. Libraries that bring
 * machine code or files of their own stay where the set-up has put them.
 */
import { rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "./setup.mjs";

const folder = "apps/server/dist";
export const serverFile = `${folder}/server.js`;

/** Packages in CommonJS call `require`, and some ask where they lie. */
const banner = `import { createRequire as __createRequire } from "node:module"; import { dirname as __dirnameOf } from "node:path"; import { fileURLToPath as __pathOf } from "node:url"; const require = __createRequire(import.meta.url); const __filename = __pathOf(import.meta.url); const __dirname = __dirnameOf(__filename);`;

/** Machine code (libsql, @node-rs/argon2), and a thread's own entry file (piscina). */
const external = ["libsql", "@node-rs/argon2", "piscina"];

/**
 * Bundles the server.
 * @returns {Promise<string[]>} every file that went in, from the root
 */
export async function buildServer() {
  rmSync(join(root, folder), { recursive: true, force: true });
  const esbuild = await import("esbuild");
  const { metafile } = await esbuild.build({
    absWorkingDir: root,
    entryPoints: { server: "apps/server/src/main.ts", worker: "apps/server/src/jobs/worker.ts" },
    outdir: folder,
    chunkNames: "chunks/[name]-[hash]",
    splitting: true,
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20",
    legalComments: "external",
    banner: { js: banner },
    external,
    metafile: true,
    logLevel: "error",
  });
  return Object.keys(metafile.inputs);
}
