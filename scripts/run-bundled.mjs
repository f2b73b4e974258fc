/** Bundles TypeScript of the repository into one file under `.cache/` and runs it in a Node of its own. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root } from "./setup.mjs";

/** Packages in CommonJS call `require`, which a module has to make for itself. */
const banner = 'import { createRequire as r_ } from "node:module"; const require = r_(import.meta.url);';

/**
 * @param {string} name of the file under `.cache/`, without ending
 * @param {import("esbuild").BuildOptions} source what is bundled: `entryPoints` or `stdin`
 * @param {readonly string[]} [parameters] handed on to what is run
 * @returns {Promise<number>} its exit status
 */
export async function runBundled(name, source, parameters = []) {
  const esbuild = await import("esbuild");
  const outfile = join(root, `.cache/${name}.mjs`);
  await esbuild.build({
    ...source,
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20",
    banner: { js: banner },
    logLevel: "error",
  });
  return spawnSync(process.execPath, [outfile, ...parameters], { cwd: root, stdio: "inherit" }).status ?? 1;
}
