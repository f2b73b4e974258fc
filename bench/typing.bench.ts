/** From a key pressed in a cell until all results of the demonstration are on the screen again, in Chromium. */

import { existsSync, readdirSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import { evaluate } from "@alcedo-dosimetry/campaign";
import { chromium } from "playwright-core";
import { campaignIn } from "./folder-on-disk.ts";
import { interleaved } from "./interleaved.ts";
import type { Row } from "./row.ts";

const campaign = campaignIn("examples/demonstration");

/** The workload's line. */
export const name =
  "typing a digit into a cell of the demonstration campaign, until all results are painted (Chromium)";

/** The evaluation alone, in Node. */
export const baseline = "evaluate(campaign) alone, in Node";

/** Keys before the clock counts, and keys that are timed. */
const KEYS = { warmUp: 40, timed: 60 };

/** Runs it. */
export async function run(): Promise<Row[]> {
  for (let i = 0; i < 300; i++) evaluate(campaign);
  const [alone] = interleaved({ [baseline]: () => evaluate(campaign).result.quantities.length }, 30);
  const times = await typed();
  const at = (part: number) => times[Math.floor(part * (times.length - 1))]!;
  return [
    alone!,
    { what: "key to paint, median", ms: at(0.5), note: `limit 50 ms; ${times.length} keys` },
    { what: "key to paint, 95 of 100 keys within", ms: at(0.95) },
  ];
}

const TYPES: Readonly<Record<string, string>> = {
  ...{ ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".css": "text/css", ".ttf": "font/ttf" },
};

/** A server that knows one campaign and takes no change: what is typed stays a draft. */
function page(dist: string) {
  const answers: Readonly<Record<string, unknown>> = {
    "/api/me": { person: { id: "bench", name: "Bench" } },
    "/api/campaigns/bench": { id: "bench", revision: 1, campaign, signed: [] },
  };
  return createServer(({ url = "/" }, response) => {
    const path = url.split("?")[0]!;
    if (path === "/api/events") {
      response.writeHead(200, { "content-type": "text/event-stream" });
      response.flushHeaders();
      return;
    }
    const answer = answers[path];
    if (answer !== undefined) {
      response.writeHead(200, { "content-type": "application/json" }).end(JSON.stringify(answer));
      return;
    }
    const file = join(dist, path === "/" ? "index.html" : path);
    if (path.startsWith("/api/") || !existsSync(file)) return void response.writeHead(404).end();
    response.writeHead(200, { "content-type": TYPES[extname(file)] ?? "text/plain" }).end(readFileSync(file));
  });
}

/** The browser that `ALCEDO_CHROMIUM` names, or the one that the browser tests have unpacked. */
function chromiumPath(): string {
  const named = process.env["ALCEDO_CHROMIUM"];
  if (named !== undefined && named !== "") return named;
  const cache = join(process.cwd(), ".cache");
  const unpacked = existsSync(cache) ? readdirSync(cache).find((file) => /^chromium-[\d.]+$/.test(file)) : undefined;
  if (unpacked === undefined)
    throw new Error("no Chromium: name one in ALCEDO_CHROMIUM, or run the browser tests once");
  return join(cache, unpacked, "chromium");
}

/** Milliseconds from the input event to the message after the next frame, sorted. */
async function typed(): Promise<number[]> {
  const browser = await chromium.launch({ executablePath: chromiumPath(), args: ["--no-sandbox"] });
  const server = page(join(process.cwd(), "apps/web/dist"));
  await new Promise<void>((done) => {
    server.listen(0, "127.0.0.1", done);
  });
  const address = server.address() as { port: number };
  try {
    const tab = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await tab.goto(`http://127.0.0.1:${address.port}/#/campaign/bench`);
    await tab.locator('[data-quantity="output-factor.cone-5"]').waitFor();
    await tab.waitForTimeout(1500);
    const cell = tab.getByRole("grid", { name: "Readings: separation" }).getByText("27.2473", { exact: true });
    await cell.dblclick();
    await tab.evaluate(WATCH);
    for (let k = 0; k < KEYS.warmUp + KEYS.timed; k++) {
      // another last digit each time, so that every result moves
      await tab.keyboard.press("Backspace");
      await tab.waitForTimeout(30);
      await tab.keyboard.press(`${(k % 9) + 1}`);
      await tab.waitForTimeout(30);
    }
    const all = await tab.evaluate<number[]>("globalThis.alcedoTimes");
    return all.slice(2 * KEYS.warmUp).sort((a, b) => a - b);
  } finally {
    await browser.close();
    server.closeAllConnections();
    server.close();
  }
}

/** Notes, for each input, when the results have changed on the page and the frame with them is done. */
const WATCH = `
  globalThis.alcedoTimes = [];
  document.addEventListener("input", (event) => {
    const watch = new MutationObserver(() => {
      watch.disconnect();
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => globalThis.alcedoTimes.push(performance.now() - event.timeStamp);
        port2.postMessage(0);
      });
    });
    watch.observe(document.querySelector(".margin .origin"), { subtree: true, characterData: true, childList: true });
    for (const results of document.querySelectorAll(".stage-results"))
      watch.observe(results, { subtree: true, characterData: true, childList: true });
  }, true);
`;
