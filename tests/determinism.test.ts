import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { runInThisContext } from "node:vm";
import { build } from "esbuild";
import { afterAll, expect, test } from "vitest";
import { closeBrowser, findBrowser, withPage } from "./browser.ts";

const browser = await findBrowser();
const root = fileURLToPath(new URL("..", import.meta.url));

afterAll(closeBrowser);

/** The workload and all that it imports, as one script that leaves its exports in the global `workload`. */
async function bundle(): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [fileURLToPath(new URL("determinism-workload.ts", import.meta.url))],
    absWorkingDir: root,
    bundle: true,
    write: false,
    format: "iife",
    globalName: "workload",
    platform: "browser",
    target: "es2023",
    logLevel: "silent",
  });
  return outputFiles[0]!.text;
}

const compute = "workload.computeAll()";

test("Node and Chromium compute the same numbers to the last bit", async ({ skip }) => {
  if ("missing" in browser) return skip(browser.missing);
  const code = await bundle();
  const inNode = runInThisContext(`${code}; ${compute}`) as string;
  const inBrowser = await withPage(browser.path, async (page) => {
    await page.addScriptTag({ content: code });
    return page.evaluate<string>(compute);
  });
  expect(inNode.length).toBeGreaterThan(1_000);
  expect(inBrowser.split("\n")).toEqual(inNode.split("\n"));
});

test.for([
  ["evaluate the demonstration campaign to the same bytes: result, model and traces", "evaluateFolder"],
  ["draw the same trials of it, and find the same intervals", "drawFolder"],
] as const)("Node and Chromium %s", async ([_title, way], { skip }) => {
  if ("missing" in browser) return skip(browser.missing);
  const folder = new URL("../examples/demonstration/", import.meta.url);
  const files = Object.fromEntries(
    readdirSync(folder).map((file) => [file, readFileSync(new URL(file, folder), "utf8")]),
  );
  const code = await bundle();
  const call = `workload.${way}(${JSON.stringify(files)})`;
  const inNode = runInThisContext(`${code}; ${call}`) as string;
  const inBrowser = await withPage(browser.path, async (page) => {
    await page.addScriptTag({ content: code });
    return page.evaluate<string>(call);
  });
  expect(inNode.length).toBeGreaterThan(100_000);
  expect(inNode).toContain(way === "drawFolder" ? '"interval95":[' : "output-factor.cone-5");
  expect(inBrowser === inNode).toBe(true);
});

test("the comparison sees the last bit: Math.pow is not the same in both", async ({ skip }) => {
  if ("missing" in browser) return skip(browser.missing);
  const powers = "Array.from({ length: 20000 }, (_, i) => Math.pow(1 + i / 977, 3.3 + i / 1013)).join()";
  const inNode = runInThisContext(powers) as string;
  const inBrowser = await withPage(browser.path, (page) => page.evaluate<string>(powers));
  if (inNode === inBrowser) return skip("this Node and this Chromium agree about Math.pow: no witness");
  expect(inBrowser.split(",")).toHaveLength(20_000);
});
