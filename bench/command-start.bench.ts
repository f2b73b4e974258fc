import { spawnSync } from "node:child_process";
import { interleaved } from "./interleaved.ts";
import type { Row } from "./row.ts";

/** The workload's line. */
export const name = "the command, from its start to the whole result on standard output (the binary itself)";

/** What Node alone needs to start and stop. */
export const baseline = "node -e 0";

/** Runs it. */
export function run(): Row[] {
  const [node, evaluate] = interleaved({
    [baseline]: () => start(["-e", "0"], 0),
    "alcedo evaluate examples/demonstration --json": () =>
      start(["apps/cli/bin/alcedo.js", "evaluate", "examples/demonstration", "--json"], 0),
  });
  return [node!, { ...evaluate!, note: "limit 400 ms" }];
}

function start(parameters: readonly string[], expected: number): number {
  const { status, stderr, stdout } = spawnSync(process.execPath, parameters, { encoding: "utf8" });
  if (status !== expected) throw new Error(`node ${parameters.join(" ")} ended with ${status}: ${stderr}`);
  return stdout.length;
}
