/**
 * `npm test`: everything, in two lanes side by side. Each step is timed and prints its output only when it fails; a
 * failure stops nothing. The last line is the tally: one for each test that vitest ran, one for each other step.
 *
 * `npm test -- types lint` runs the steps of those names alone.
 */
import { build } from "./build.mjs";
import { runLane, tallyLine } from "./lane.mjs";
import { setUp, withSetupMessages } from "./setup.mjs";

const tsc = "node_modules/typescript/bin/tsc";
const biome = "node_modules/@biomejs/biome/bin/biome";
const eslint = "node_modules/eslint/bin/eslint.js";
const cruiser = "node_modules/dependency-cruiser/bin/dependency-cruise.mjs";
const knip = "node_modules/knip/bin/knip.js";

/** @type {import("./lane.mjs").Step[]} */
const typesAndUnits = [
  { name: "types", command: [tsc, "-p", "tsconfig.json"] },
  { name: "types-pure", command: [tsc, "-p", "tsconfig.pure.json"] },
  { name: "types-page", command: [tsc, "-p", "apps/web/tsconfig.json"] },
  { name: "unit", vitest: "unit" },
];

/** @type {import("./lane.mjs").Step[]} */
const lintAndWhole = [
  { name: "format", command: [biome, "check", "--error-on-warnings", "--colors=off"] },
  { name: "lint", command: [eslint, "--max-warnings=0"] },
  { name: "boundaries", command: [cruiser, "packages", "apps", "--output-type", "err-long"] },
  { name: "unused", command: [knip, "--no-progress"] },
  { name: "rules", command: ["scripts/check-rules.mjs"] },
  { name: "docs", command: ["scripts/check-docs.mjs"] },
  { name: "build", work: async () => void (await build()) },
  { name: "whole", vitest: "whole" },
];

await withSetupMessages(async () => {
  const names = process.argv.slice(2);
  const known = [...typesAndUnits, ...lintAndWhole].map((step) => step.name);
  const unknown = names.filter((name) => !known.includes(name));
  if (unknown.length > 0) {
    process.stderr.write(`No step is called ${unknown.join(", ")}; the steps are ${known.join(", ")}.\n`);
    process.exitCode = 2;
    return;
  }
  const chosen = (/** @type {import("./lane.mjs").Step[]} */ lane) =>
    names.length === 0 ? lane : lane.filter((step) => names.includes(step.name));

  await setUp("full");
  const outcomes = (await Promise.all([runLane(chosen(typesAndUnits)), runLane(chosen(lintAndWhole))])).flat();
  for (const reason of outcomes.flatMap((outcome) => outcome.skipped)) console.log(`skipped: ${reason}`);
  for (const outcome of outcomes.filter((outcome) => outcome.failed > 0)) console.log(`failed: ${outcome.name}`);
  console.log(tallyLine(outcomes));
  process.exitCode = outcomes.some((outcome) => outcome.failed > 0) ? 1 : 0;
});
