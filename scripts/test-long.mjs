/**
 * `npm run test:long`: what takes too long for `npm test`, at full size. Each step prints what it counted; the counts of a run
 * that matters are written into docs/validation.md.
 *
 * `npm run test:long -- soak kills` runs the steps of those names alone.
 */
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "./build.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

/** @typedef {{ name: string, words: () => string[], env?: Record<string, string> }} LongStep */

/** @type {LongStep[]} */
const steps = [
  // an hour of typing, compressed: is the server's memory flat?
  { name: "soak", words: () => ["whole", "tests/workbench-soak.test.ts"], env: { ALCEDO_SOAK_EDITS: "3600" } },
  // ten thousand campaigns: do home, lists and a campaign still open at once?
  { name: "large", words: () => ["whole", "tests/workbench-large.test.ts"], env: { ALCEDO_CAMPAIGNS: "10000" } },
  // a server killed while readings stream in: is every acknowledged one there?
  { name: "kills", words: () => ["whole", "tests/workbench-kill.test.ts"], env: { ALCEDO_KILLS: "300" } },
  // every property test with many more cases than in `npm test`, from another seed each day
  {
    name: "fuzz",
    words: () => ["unit", ...propertyTests(), "--testTimeout=1200000"],
    env: { ALCEDO_PROPERTY_RUNS: "2000", ALCEDO_PROPERTY_SEED: process.env["ALCEDO_PROPERTY_SEED"] ?? today() },
  },
  { name: "coverage", words: () => ["unit", "--coverage"] },
];

await withSetupMessages(async () => {
  const names = process.argv.slice(2);
  const unknown = names.filter((name) => !steps.some((step) => step.name === name));
  if (unknown.length > 0) {
    const known = steps.map(({ name }) => name).join(", ");
    process.stderr.write(`No step is called ${unknown.join(", ")}; the steps are ${known}.\n`);
    process.exitCode = 2;
    return;
  }
  await setUp("full");
  await build();
  const failed = steps.filter(({ name }) => names.length === 0 || names.includes(name)).filter((step) => !passes(step));
  for (const { name } of failed) console.log(`failed: ${name}`);
  process.exitCode = failed.length > 0 ? 1 : 0;
});

/** @param {LongStep} step */
function passes({ name, words, env = {} }) {
  const said = Object.entries(env).map(([key, value]) => `${key}=${value}`);
  console.log(`\n== ${[name, ...said].join(" ")}`);
  const begun = performance.now();
  const vitest = ["node_modules/vitest/vitest.mjs", "run", "--project", ...words()];
  const { status } = spawnSync(process.execPath, vitest, {
    cwd: root,
    stdio: "inherit",
    env: { ...process.env, ...env },
  });
  console.log(`${status === 0 ? "ok" : "FAILED"} ${name}: ${((performance.now() - begun) / 1000).toFixed(0)} s`);
  return status === 0;
}

/** The unit tests that try random cases. */
function propertyTests() {
  return ["packages", "apps"]
    .flatMap((group) => readdirSync(join(root, group)).map((name) => `${group}/${name}/src`))
    .flatMap((folder) => readdirSync(join(root, folder), { recursive: true }).map((path) => `${folder}/${path}`))
    .filter((path) => /\.test\.tsx?$/.test(path))
    .filter((path) => readFileSync(join(root, path), "utf8").includes('from "fast-check"'));
}

/** The day as a number: a run is repeated with the seed that it printed. */
function today() {
  return new Date().toISOString().slice(0, 10).replaceAll("-", "");
}
