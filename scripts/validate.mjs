/**
 * `npm run coverage -- CAMPAIGNS [REGIME]` and `npm run mistakes -- CAMPAIGNS [KIND]`: the tables of docs/validation.md,
 * each bundled and run in a Node of its own.
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root, setUp, withSetupMessages } from "./setup.mjs";

await withSetupMessages(async () => {
  await setUp("run");
  const esbuild = await import("esbuild");
  const [table, ...more] = process.argv.slice(2);
  const outfile = join(root, `.cache/${table}-table.mjs`);
  await esbuild.build({
    entryPoints: [join(root, `tests/validation/${table}-table.ts`)],
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20",
    banner: { js: 'import { createRequire as r_ } from "node:module"; const require = r_(import.meta.url);' },
    logLevel: "error",
  });
  const run = spawnSync(process.execPath, [outfile, ...more], { cwd: root, stdio: "inherit" });
  process.exitCode = run.status ?? 1;
});
