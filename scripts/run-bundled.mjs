/** Bundles TypeScript of the repository into one file under `.cache/` and runs it in a Node of its own. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { MACHINE_CODE, nodeProgram } from "./node-program.mjs";
import { root } from "./setup.mjs";

/**
 * Bundles TypeScript with all that it imports into one module for Node.
 *
 * @param {string} outfile
 * @param {import("esbuild").BuildOptions} source what is bundled: `entryPoints` or `stdin`
 */
export async function bundle(outfile, source) {
  const esbuild = await import("esbuild");
  await esbuild.build({
    ...nodeProgram,
    ...source,
    outfile,
    external: [...MACHINE_CODE, "playwright-core"], // a development tool with parts that no bundler finds
  });
}

/**
 * @param {string} name of the file under `.cache/`, without ending
 * @param {import("esbuild").BuildOptions} source what is bundled: `entryPoints` or `stdin`
 * @param {readonly string[]} [parameters] handed on to what is run
 * @returns {Promise<number>} its exit status
 */
export async function runBundled(name, source, parameters = []) {
  const outfile = join(root, `.cache/${name}.mjs`);
  await bundle(outfile, source);
  return spawnSync(process.execPath, [outfile, ...parameters], { cwd: root, stdio: "inherit" }).status ?? 1;
}
