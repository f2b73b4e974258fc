/**
 * The workbench's server: `apps/server/dist/server.js`, and beside it `worker.js`, what its threads run. Libraries that bring
 * machine code or files of their own stay where the set-up has put them.
 */
import { rmSync } from "node:fs";
import { join } from "node:path";
import { MACHINE_CODE, nodeProgramInParts, placedBanner } from "./node-program.mjs";
import { root } from "./setup.mjs";

const usual = "apps/server/dist";
export const serverFile = `${usual}/server.js`;

/**
 * Bundles the server.
 * @param {{ folder?: string, entry?: string }} [other] where it is put and which program it is, from the root
 * @returns {Promise<string[]>} every file that went in, from the root
 */
export async function buildServer({ folder = usual, entry = "apps/server/src/main.ts" } = {}) {
  rmSync(join(root, folder), { recursive: true, force: true });
  const esbuild = await import("esbuild");
  const { metafile } = await esbuild.build({
    ...nodeProgramInParts,
    absWorkingDir: root,
    entryPoints: { server: entry, worker: "apps/server/src/jobs/worker.ts" },
    outdir: folder,
    banner: placedBanner,
    external: [...MACHINE_CODE, "piscina"], // which loads its own entry file in a thread
    metafile: true,
  });
  return Object.keys(metafile.inputs);
}
