/**
 * `npm run coverage -- CAMPAIGNS [REGIME]` and `npm run mistakes -- CAMPAIGNS [KIND]`: the tables of docs/validation.md.
 */
import { join } from "node:path";
import { runBundled } from "./run-bundled.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

await withSetupMessages(async () => {
  await setUp("run");
  const [table, ...more] = process.argv.slice(2);
  const entryPoints = [join(root, `tests/validation/${table}-table.ts`)];
  process.exitCode = await runBundled(`${table}-table`, { entryPoints }, more);
});
