import { mkdirSync, rmSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import { evaluate } from "@alcedo-dosimetry/campaign";
import { build } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { inventedCampaign } from "../testing/invented-campaign.ts";
import { threads } from "./threads.ts";

// beside the sources, so that a thread finds the fonts
const folder = fileURLToPath(new URL(`../../.cache/threads-${process.pid}/`, import.meta.url));
const worker = pathToFileURL(`${folder}worker.mjs`);

beforeAll(async () => {
  mkdirSync(folder, { recursive: true });
  const banner = 'import { createRequire as r_ } from "node:module"; const require = r_(import.meta.url);';
  await build({
    ...{ entryPoints: [fileURLToPath(new URL("worker.ts", import.meta.url))], outfile: `${folder}worker.mjs` },
    ...{ bundle: true, format: "esm", platform: "node", banner: { js: banner }, logLevel: "error" },
    external: ["libsql", "@node-rs/argon2"],
  });
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("threads", () => {
  it("give what the same job gives here, to the bit", async () => {
    const work = threads(worker);
    const campaign = inventedCampaign();
    expect(JSON.stringify(await work.run("evaluate", { campaign }))).toBe(JSON.stringify(evaluate(campaign).result));
    const pdf = await work.run("document", { campaign, kind: "record", format: "pdf", signed: [] });
    expect(pdf).toBeInstanceOf(Uint8Array);
    await work.close();
  }, 60_000);

  it("leave this thread free, and short jobs do not wait behind long ones", async () => {
    const work = threads(worker);
    const campaign = inventedCampaign();
    const gone = new AbortController();
    const long = Array.from({ length: 4 }, async () =>
      work.run("monteCarlo", { campaign, request: { trials: 40_000_000, seed: 1 } }, gone.signal),
    );
    const ended = Promise.allSettled(long);
    await work.run("evaluate", { campaign });
    let waits = 0;
    for (let last = performance.now(), number = 0; number < 50; number++) {
      await pause(1);
      waits = Math.max(waits, performance.now() - last);
      last = performance.now();
    }
    // the machine may be busy with other tests: the work itself would take many seconds
    expect(waits).toBeLessThan(1000);
    gone.abort();
    expect((await ended).map(({ status }) => status)).toEqual(["rejected", "rejected", "rejected", "rejected"]);
    await work.close();
  }, 60_000);
});
