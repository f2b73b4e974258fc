/**
 * `npm start`: set up, build if sources changed, evaluate the demonstration campaign, write its documents into `reports/`, and
 * open the workbench with it in a fresh folder until Ctrl-C. Words behind it (`npm start -- --json`) go to `alcedo evaluate`,
 * and nothing else is done.
 */
import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "./build.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

const program = join(root, "apps/cli/bin/alcedo.js");
const demonstration = join("examples", "demonstration");
/** Where the workbench is wont to be. */
const usualPort = 4270;

await withSetupMessages(async () => {
  await setUp("run");
  await build();
  const more = process.argv.slice(2);
  process.exitCode = alcedo(["evaluate", demonstration, ...more]);
  if (process.exitCode !== 0 || more.length > 0) return;
  console.log();
  mkdirSync(join(root, "reports"), { recursive: true });
  process.exitCode = alcedo(["report", demonstration, "--out", join("reports", "demonstration-record"), "--force"]);
  if (process.exitCode !== 0) return;
  console.log();
  process.exitCode = await workbench();
});

/** @param {string[]} words */
function alcedo(words) {
  const run = spawnSync(process.execPath, [program, ...words], { cwd: root, stdio: "inherit" });
  if (run.error) throw run.error;
  return run.status ?? 1;
}

/** Serves the demonstration until it is stopped; gives the exit status. */
async function workbench() {
  const folder = mkdtempSync(join(tmpdir(), "alcedo-demonstration-"));
  // the usual port, so that the address stays; another program's is no reason not to start
  const port = process.env["PORT"] ?? ((await isFree(usualPort)) ? `${usualPort}` : "0");
  const words = ["serve", folder, "--example", demonstration];
  const child = spawn(process.execPath, [program, ...words], {
    cwd: root,
    stdio: ["inherit", "pipe", "inherit"],
    env: { ...process.env, PORT: port },
  });
  for (const signal of /** @type {const} */ (["SIGINT", "SIGTERM", "SIGHUP"]))
    process.on(signal, () => child.kill(signal));
  let said = "";
  child.stdout.on("data", (chunk) => {
    process.stdout.write(chunk);
    const before = said;
    said += chunk;
    const ready = /works once:\n\s+(\S+)\n/;
    const link = ready.exec(said)?.[1];
    if (link === undefined || ready.test(before)) return;
    console.log("Everything in it is invented. Ctrl-C stops the workbench.");
    openBrowser(link);
  });
  return new Promise((done, fail) => {
    child.once("error", fail);
    child.once("close", (status) => done(status ?? 1));
  });
}

/**
 * Whether nobody listens on a port of this machine.
 * @param {number} port
 * @returns {Promise<boolean>}
 */
function isFree(port) {
  return new Promise((tell) => {
    const probe = createServer();
    probe.once("error", () => tell(false));
    probe.listen(port, "127.0.0.1", () => probe.close(() => tell(true)));
  });
}

/**
 * Opens an address where there is a screen to show it on. That it cannot be opened is no fault: it stands there to be copied.
 * @param {string} address
 */
function openBrowser(address) {
  const opener = browserOpener(process.platform, process.env);
  if (opener === undefined) return;
  const [command, ...words] = opener;
  const child = spawn(/** @type {string} */ (command), [...words, address], { stdio: "ignore", detached: true });
  child.on("error", () => undefined);
  child.unref();
}

/**
 * @param {string} platform
 * @param {Readonly<Record<string, string | undefined>>} env
 * @returns {string[] | undefined}
 */
function browserOpener(platform, env) {
  if (platform === "darwin") return ["open"];
  if (platform === "win32") return ["cmd", "/c", "start", ""];
  return env["DISPLAY"] || env["WAYLAND_DISPLAY"] ? ["xdg-open"] : undefined;
}
