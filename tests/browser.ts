/**
 * A real Chromium for tests. Found in this order: the one that `ALCEDO_CHROMIUM` names, one installed on the system, the
 * one packed in a development dependency (Linux on x64). Where there is none, `findBrowser` says why, and the tests that
 * need one are skipped with that reason; a browser that is there and does not start is a failure.
 */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync } from "node:fs";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page } from "playwright-core";

/** Quiet and without a network of its own. */
const args = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

const systemNames = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];

/** Where a browser is, or why there is none. */
export type FoundBrowser = { readonly path: string } | { readonly missing: string };

/** Looks for a browser; throws when `ALCEDO_CHROMIUM` names a file that is not there. */
export async function findBrowser(): Promise<FoundBrowser> {
  const named = process.env["ALCEDO_CHROMIUM"];
  if (named !== undefined && named !== "") {
    if (!existsSync(named)) throw new Error(`ALCEDO_CHROMIUM names ${named}, which is not there`);
    return { path: named };
  }
  const folders = (process.env["PATH"] ?? "").split(delimiter);
  const system = systemNames.flatMap((name) => folders.map((folder) => join(folder, name))).find(existsSync);
  if (system !== undefined) return { path: system };
  if (process.platform === "linux" && process.arch === "x64") return { path: await packedBrowser() };
  return { missing: `no Chromium on ${process.platform} ${process.arch}: name one in ALCEDO_CHROMIUM` };
}

/**
 * Unpacks the browser of the development dependency. The package itself unpacks into the system's temporary folder and
 * takes whatever lies there for complete; here each version has a folder of its own, renamed once it is whole.
 */
async function packedBrowser(): Promise<string> {
  const manifest = fileURLToPath(new URL("../node_modules/@sparticuz/chromium/package.json", import.meta.url));
  const { version } = JSON.parse(readFileSync(manifest, "utf8")) as { version: string };
  const cache = fileURLToPath(new URL("../.cache/", import.meta.url));
  const folder = join(cache, `chromium-${version}`);
  if (!existsSync(folder)) {
    mkdirSync(cache, { recursive: true });
    const draft = mkdtempSync(`${folder}.`);
    const temporary = process.env["TMPDIR"];
    process.env["TMPDIR"] = draft;
    try {
      const { default: packed } = await import("@sparticuz/chromium");
      await packed.executablePath();
    } finally {
      if (temporary === undefined) delete process.env["TMPDIR"];
      else process.env["TMPDIR"] = temporary;
    }
    try {
      renameSync(draft, folder);
    } catch (error) {
      rmSync(draft, { recursive: true });
      if (!existsSync(folder)) throw error; // otherwise another test file was quicker
    }
  }
  return join(folder, "chromium");
}

let running: Promise<Browser> | undefined;

/**
 * Opens an empty page for the work and closes it again; the browser starts at the first call and stays for the next.
 * An error that the page throws and does not catch fails the work.
 */
export async function withPage<Result>(path: string, work: (page: Page) => Promise<Result>): Promise<Result> {
  running ??= chromium.launch({ executablePath: path, args });
  const page = await (await running).newPage();
  const errors: Error[] = [];
  page.on("pageerror", (error) => errors.push(error));
  try {
    const result = await work(page);
    if (errors.length > 0) throw new AggregateError(errors, `the page threw: ${errors.map(String).join("; ")}`);
    return result;
  } finally {
    await page.close();
  }
}

/** Stops the browser, where one was started: call it in `afterAll`. */
export async function closeBrowser(): Promise<void> {
  const browser = await running;
  running = undefined;
  await browser?.close();
}
