/** `npm start`: set up, build if sources changed, then evaluate the demonstration campaign. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { build } from "./build.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

await withSetupMessages(async () => {
  await setUp("run");
  await build();
  const more = process.argv.slice(2);
  const run = spawnSync(
    process.execPath,
    [join(root, "apps/cli/bin/alcedo.js"), "evaluate", join("examples", "demonstration"), ...more],
    { cwd: root, stdio: "inherit" },
  );
  if (run.error) throw run.error;
  process.exitCode = run.status ?? 1;
});
