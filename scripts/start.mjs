/**
 * `npm start`: set up, build if sources changed, then evaluate the demonstration campaign and write its documents into
 * `reports/`. Words behind it (`npm start -- --json`) go to `alcedo evaluate`, and no document is written.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { build } from "./build.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

await withSetupMessages(async () => {
  await setUp("run");
  await build();
  const alcedo = (/** @type {string[]} */ words) => {
    const run = spawnSync(process.execPath, [join(root, "apps/cli/bin/alcedo.js"), ...words], {
      cwd: root,
      stdio: "inherit",
    });
    if (run.error) throw run.error;
    return run.status ?? 1;
  };
  const demonstration = join("examples", "demonstration");
  const more = process.argv.slice(2);
  process.exitCode = alcedo(["evaluate", demonstration, ...more]);
  if (process.exitCode !== 0 || more.length > 0) return;
  console.log();
  mkdirSync(join(root, "reports"), { recursive: true });
  process.exitCode = alcedo(["report", demonstration, "--out", join("reports", "demonstration-record"), "--force"]);
});
