/**
 * `npm run bench`: every workload of `bench/`, one after the other, each bundled and run in a Node of its own.
 * `npm run bench -- NAME` runs those whose file names contain NAME. See bench/README.md.
 */
import { readdirSync } from "node:fs";
import { cpus } from "node:os";
import { join } from "node:path";
import { runBundled } from "./run-bundled.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

await withSetupMessages(async () => {
  await setUp("run");
  const wanted = process.argv.slice(2);
  const all = readdirSync(join(root, "bench")).filter((file) => file.endsWith(".bench.ts"));
  const chosen = all.filter((file) => wanted.length === 0 || wanted.some((part) => file.includes(part))).sort();
  if (chosen.length === 0) {
    process.stderr.write(`No workload is called so; there are ${all.join(", ") || "none yet"}.\n`);
    process.exitCode = 2;
    return;
  }
  console.log(`Node ${process.versions.node}, ${cpus()[0]?.model ?? "unknown processor"}, ${cpus().length} cores`);
  for (const file of chosen) {
    console.log("");
    if (!(await runWorkload(file))) process.exitCode = 1;
  }
});

/**
 * Bundles a workload together with the code that prints its table, and runs it; false when it fails.
 * @param {string} file in `bench/`
 */
async function runWorkload(file) {
  const contents = `import * as workload from "./${file}"; import { table } from "./table.ts";
    console.log(table(workload, await workload.run()));`;
  const name = `bench/${file.replace(/\.ts$/, "")}`;
  return (await runBundled(name, { stdin: { contents, resolveDir: join(root, "bench") } })) === 0;
}
