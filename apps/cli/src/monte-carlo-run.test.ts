import { Worker } from "node:worker_threads";
import type { Result } from "@alcedo-dosimetry/campaign";
import { beforeAll, describe, expect, test } from "vitest";
import { alcedo, withoutColour } from "./testing/console.ts";
import { DEMONSTRATION } from "./testing/scratch.ts";
import { workerFromSources } from "./testing/worker-from-sources.ts";
import type { StartWorker } from "./worker-pool.ts";

const TIMEOUT = 120_000;
let startWorker: StartWorker;
beforeAll(async () => {
  startWorker = await workerFromSources();
}, TIMEOUT);

const evaluated = async (...words: string[]) => {
  const { status, out, err } = await alcedo(["evaluate", DEMONSTRATION, "--json", ...words], { startWorker });
  return { status, err, out, result: JSON.parse(out) as Result };
};

describe("alcedo evaluate --monte-carlo", () => {
  test("adds intervals to the object, and says how they were made", { timeout: TIMEOUT }, async () => {
    const { status, err, result } = await evaluated("--monte-carlo", "4000", "--seed", "9");
    expect([status, err]).toEqual([0, ""]);
    expect(result.monteCarlo).toEqual({ trials: 4096, seed: 9, failures: 0 });
    const ratio = result.quantities.find(({ id }) => id === "separation.stem-ratio")!;
    expect(ratio.interval95![0]).toBeLessThan(ratio.value);
    expect(ratio.interval95![1]).toBeGreaterThan(ratio.value);
    expect(ratio.mcU! / ratio.u!).toBeCloseTo(1, 1);
  });

  test("is the same to the bit on one thread, on two and on five", { timeout: TIMEOUT }, async () => {
    const run = async (threads: number) =>
      (await evaluated("--monte-carlo", "30000", "--seed", "4", "--threads", `${threads}`)).out;
    const one = await run(1);
    expect(await run(2)).toBe(one);
    expect(await run(5)).toBe(one);
    expect((await evaluated("--monte-carlo", "30000", "--seed", "5", "--threads", "2")).out).not.toBe(one);
  });

  test("an adaptive run is the same on one thread and on two", { timeout: TIMEOUT }, async () => {
    const run = async (threads: number) =>
      (await evaluated("--monte-carlo", "adaptive", "--threads", `${threads}`)).out;
    const one = await run(1);
    expect(await run(2)).toBe(one);
    const { monteCarlo } = JSON.parse(one) as Result;
    expect(monteCarlo!.settled).toBeTypeOf("boolean");
    expect(monteCarlo!.trials).toBeGreaterThan(20_000);
  });

  test("shows the intervals beside U on the terminal, with the verdict", { timeout: TIMEOUT }, async () => {
    const { out } = await alcedo(["evaluate", DEMONSTRATION, "--monte-carlo", "200000"], { columns: 100, startWorker });
    expect(out).toMatch(/^Monte Carlo$/m);
    expect(out).toMatch(/^quantity +value +U +95 % from +to +value ± U$/m);
    expect(out).toMatch(/^calibration\.coefficient +0\.2580\(18\) +±0\.0036 +0\.2544\d +0\.2615\d +● holds$/m);
    expect(out).toMatch(/^output-factor\.cone-5 .* ● holds$/m);
    expect(out).toContain("200704 trials, seed 1.");
    // without it nothing of the kind is there
    expect((await alcedo(["evaluate", DEMONSTRATION])).out).not.toContain("Monte Carlo");
  });

  test("shows progress on a terminal's standard error and takes it away; none in a file", {
    timeout: TIMEOUT,
  }, async () => {
    const words = ["evaluate", DEMONSTRATION, "--monte-carlo", "20000", "--threads", "2"];
    const { err } = await alcedo(words, { isTTY: true, startWorker });
    expect(err).toContain("Monte Carlo: 40 %");
    expect(err.endsWith("\r\u001b[K")).toBe(true);
    expect(withoutColour(err)).not.toContain("\n");
    expect((await alcedo(words, { startWorker })).err).toBe("");
  });

  test("does without threads where there are none to be had", { timeout: TIMEOUT }, async () => {
    const words = ["evaluate", DEMONSTRATION, "--json", "--monte-carlo", "3000", "--threads", "3"];
    expect((await alcedo(words)).out).toBe((await alcedo(words, { startWorker })).out);
  });

  test("a thread that fails is a fault of the program, said as such, and the others end", {
    timeout: TIMEOUT,
  }, async () => {
    const failing: StartWorker = () => new Worker("throw new Error('no memory left')", { eval: true });
    const words = ["evaluate", DEMONSTRATION, "--monte-carlo", "3000", "--threads", "2"];
    const { status, out, err } = await alcedo(words, { startWorker: failing });
    expect([status, out]).toEqual([3, ""]);
    expect(err).toContain("no memory left");
    const silent: StartWorker = () => new Worker("process.exit(7)", { eval: true });
    expect((await alcedo(words, { startWorker: silent })).err).toContain("ended with 7");
  });

  test.each([
    [["--monte-carlo", "0"], "from 1 to 40000000"],
    [["--monte-carlo", "many"], 'or "adaptive"'],
    [["--monte-carlo", "1e6"], "such as 100000"],
    [["--monte-carlo", "1000", "--threads", "0"], "from 1 to 99"],
    [["--monte-carlo", "1000", "--seed", "-1"], "whole number"],
    [["--seed", "4"], "--seed belongs to a Monte Carlo run: add --monte-carlo N"],
    [["--threads", "4"], "--threads belongs to a Monte Carlo run"],
  ])("%j is refused: %s", async (words, message) => {
    const { status, out, err } = await alcedo(["evaluate", DEMONSTRATION, ...words]);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toContain(message);
  });
});
