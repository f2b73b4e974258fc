/** A lane: steps run one after the other, each timed and counted, none able to hide another's failure. */
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "./setup.mjs";

/**
 * A step is a command (a script for Node with its arguments, from the root), a vitest project, or work of our own that
 * throws when it fails.
 * @typedef {{ name: string, command?: string[], vitest?: string, work?: () => Promise<void> }} Step
 * @typedef {{ name: string, passed: number, failed: number, skipped: string[] }} Outcome
 * @typedef {{ passed: number, failed: number, outside: number, skipped: string[], unexplained: string[] }} Tally
 * What `vitest-tally.mjs` writes.
 */

/**
 * @param {Step[]} steps
 * @param {(text: string) => void} [print]
 * @returns {Promise<Outcome[]>} one for each step
 */
export async function runLane(steps, print = console.log) {
  const outcomes = [];
  for (const step of steps) {
    const start = performance.now();
    const { outcome, output } = await runStep(step);
    const seconds = ((performance.now() - start) / 1000).toFixed(1);
    const counts = step.vitest === undefined ? "" : ` ${tallyLine([outcome])},`;
    const lines = [`${outcome.failed > 0 ? "FAILED" : "ok    "} ${step.name}:${counts} ${seconds} s`];
    if (outcome.failed > 0) lines.push(output.trimEnd(), "");
    print(lines.join("\n")); // in one piece, for the other lane prints too
    outcomes.push(outcome);
  }
  return outcomes;
}

/**
 * The closing line, in the form that test runs are read by.
 * @param {Outcome[]} outcomes
 */
export function tallyLine(outcomes) {
  const sum = (/** @type {(outcome: Outcome) => number} */ of) =>
    outcomes.reduce((total, outcome) => total + of(outcome), 0);
  const skipped = sum((outcome) => outcome.skipped.length);
  const passedAndFailed = `${sum((outcome) => outcome.passed)} passed, ${sum((outcome) => outcome.failed)} failed`;
  return skipped > 0 ? `${passedAndFailed}, ${skipped} skipped` : passedAndFailed;
}

/** @param {Step} step */
async function runStep(step) {
  if (step.vitest !== undefined) return runVitest(step.name, step.vitest);
  if (step.command !== undefined) {
    const { code, output } = await run(step.command);
    return { outcome: single(step.name, code === 0), output };
  }
  try {
    await step.work?.();
    return { outcome: single(step.name, true), output: "" };
  } catch (error) {
    return {
      outcome: single(step.name, false),
      output: error instanceof Error ? (error.stack ?? error.message) : String(error),
    };
  }
}

/**
 * @param {string} name
 * @param {boolean} good
 * @returns {Outcome}
 */
const single = (name, good) => ({ name, passed: good ? 1 : 0, failed: good ? 0 : 1, skipped: [] });

/**
 * @param {string} name of the step
 * @param {string} project of `vitest.config.ts`
 */
async function runVitest(name, project) {
  const path = join(root, `.cache/tally-${project}.json`);
  mkdirSync(join(root, ".cache"), { recursive: true });
  rmSync(path, { force: true }); // a tally of an earlier run must not speak for this one
  const reporters = ["--reporter=dot", "--reporter=./scripts/vitest-tally.mjs"];
  const { code, output } = await run(["node_modules/vitest/vitest.mjs", "run", "--project", project, ...reporters], {
    ALCEDO_TALLY: path,
  });
  const tally = readTally(path);
  const unexplained = (tally?.unexplained ?? []).map((test) => `\n${test}: skipped without a reason: skip("why")`);
  return { outcome: { name, ...countVitest(tally, code) }, output: output + unexplained.join("") };
}

/**
 * @param {string} path
 * @returns {Tally | undefined}
 */
function readTally(path) {
  try {
    return JSON.parse(readFileSync(path, "utf8"));
  } catch {
    return undefined; // vitest did not get as far: counted as a failure
  }
}

/**
 * Counts a run of vitest. A test skipped without a reason is a failure. Whatever the tally says, an exit status other
 * than 0 is at least one failure, and so is a run that executed nothing.
 * @param {Tally | undefined} tally
 * @param {number} code
 */
export function countVitest(tally, code) {
  const { passed, failed, outside, skipped, unexplained } = tally ?? noTally;
  const seen = failed + outside + unexplained.length;
  const unseen = seen === 0 && (code !== 0 || passed + skipped.length === 0) ? 1 : 0;
  return { passed, failed: seen + unseen, skipped };
}

/** @type {Tally} */
const noTally = { passed: 0, failed: 0, outside: 0, skipped: [], unexplained: [] };

/**
 * @param {string[]} command
 * @param {Record<string, string>} [environment] added to ours
 * @returns {Promise<{ code: number, output: string }>} both streams as they came
 */
function run(command, environment = {}) {
  return new Promise((done) => {
    let output = "";
    const child = spawn(process.execPath, command, {
      cwd: root,
      env: { ...process.env, NO_COLOR: "1", ...environment },
      stdio: ["ignore", "pipe", "pipe"],
    });
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding("utf8");
      stream.on("data", (/** @type {string} */ chunk) => {
        output += chunk;
      });
    }
    child.on("error", (error) => done({ code: -1, output: `${output}${error.message}` }));
    child.on("close", (code) => done({ code: code ?? -1, output }));
  });
}
