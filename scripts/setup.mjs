/**
 * Set-up: bring `node_modules` in line with the lock file, once, by one process at a time.
 *
 * Uses the standard library alone, for it runs before anything is installed. Two levels: `run` installs what running
 * needs, `full` also what the checks need; `full` satisfies `run`. The stamp is written last, so an interrupted set-up
 * is never taken for a finished one. When the stamp fits, nothing is started and no network is needed.
 */
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import {
  existsSync,
  linkSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

export const root = resolve(fileURLToPath(import.meta.url), "../..");

const oldestNode = { major: 20, minor: 19 };
/** A set-up that holds the lock for longer than this has died on another machine or hangs. */
const lockLifetime_ms = 30 * 60_000;

/** Why a set-up cannot go on, in words for the user: shown without a stack. */
export class SetupError extends Error {}

/**
 * Refuses a Node that is too old, with the way out.
 * @param {string} version as in `process.versions.node`
 */
export function requireNode(version) {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  if (major < oldestNode.major || (major === oldestNode.major && minor < oldestNode.minor)) {
    throw new SetupError(
      `Alcedo needs Node ${oldestNode.major}.${oldestNode.minor} or newer; this is Node ${version}. Install a newer Node and run the same command again.`,
    );
  }
}

/**
 * Everything that decides what an installation must look like: lock file, manifests, Node's binary interface, platform.
 * @param {string} folder the repository
 */
export function setupDigest(folder) {
  const hash = createHash("sha256");
  for (const path of ["package-lock.json", ...manifests(folder)]) {
    hash
      .update(`${path}\0`)
      .update(readFileSync(join(folder, path)))
      .update("\0");
  }
  return hash.update(`${process.versions.modules} ${process.platform} ${process.arch}`).digest("hex");
}

/**
 * The manifests of the root and of every workspace, as paths from the root, sorted.
 * @param {string} folder the repository
 */
function manifests(folder) {
  const found = ["package.json"];
  for (const group of ["packages", "apps"]) {
    if (!existsSync(join(folder, group))) continue;
    for (const name of readdirSync(join(folder, group)).sort()) {
      const path = `${group}/${name}/package.json`;
      if (existsSync(join(folder, path))) found.push(path);
    }
  }
  return found;
}

/**
 * Sets up at least the given level; returns true when it had something to do.
 * @param {"run" | "full"} level
 * @param {{ folder?: string, npm?: string[], say?: (line: string) => void }} [options] `npm`: command and arguments to start npm
 */
export async function setUp(level, options = {}) {
  const folder = options.folder ?? root;
  const say = options.say ?? ((line) => process.stderr.write(`${line}\n`));
  requireNode(process.versions.node);
  if (stampFits(folder, level)) return false;

  const release = await takeLock(folder, say);
  try {
    if (stampFits(folder, level)) return true; // another process has just done it
    // Whoever had the tools for the checks keeps them when the lock file moves on.
    const wanted = readStamp(folder)?.level === "full" ? "full" : level;
    const digest = setupDigest(folder);
    if (installedByHand(folder, wanted)) {
      writeStamp(folder, wanted, digest);
      return false;
    }
    say(
      `Setting up: installing what ${wanted === "full" ? "running and checking" : "running"} needs (once, a minute or two) ...`,
    );
    await install(folder, wanted, options.npm ?? npmCommand());
    writeStamp(folder, wanted, digest);
    return true;
  } finally {
    release();
  }
}

/** @param {string} folder */
const stampPath = (folder) => join(folder, "node_modules/.alcedo-setup.json");

/**
 * @param {string} folder
 * @returns {{ level: string, digest: string } | undefined} undefined when there is none, or it is damaged
 */
function readStamp(folder) {
  try {
    return JSON.parse(readFileSync(stampPath(folder), "utf8"));
  } catch {
    return undefined; // no stamp is the normal state of a fresh clone
  }
}

/**
 * @param {string} folder
 * @param {string} level
 */
function stampFits(folder, level) {
  const stamp = readStamp(folder);
  return (
    stamp !== undefined && (stamp.level === "full" || stamp.level === level) && stamp.digest === setupDigest(folder)
  );
}

/**
 * @param {string} folder
 * @param {string} level
 * @param {string} digest
 */
function writeStamp(folder, level, digest) {
  const draft = `${stampPath(folder)}.${process.pid}`;
  writeFileSync(draft, `${JSON.stringify({ level, digest })}\n`);
  renameSync(draft, stampPath(folder)); // never half written
}

/**
 * Whether an `npm ci` done by hand already fits: npm leaves a copy of the lock file in `node_modules`, written last.
 * @param {string} folder
 * @param {string} level
 */
function installedByHand(folder, level) {
  const copy = join(folder, "node_modules/.package-lock.json");
  if (!existsSync(copy)) return false;
  const { packages: there } = JSON.parse(readFileSync(copy, "utf8"));
  const { packages: wanted } = JSON.parse(readFileSync(join(folder, "package-lock.json"), "utf8"));
  return Object.entries(wanted).every(([path, entry]) => {
    if (!path.includes("node_modules/")) return true;
    if (entry.optional || entry.devOptional || (entry.dev && level === "run")) return true;
    return (
      there[path]?.version === entry.version &&
      there[path]?.integrity === entry.integrity &&
      existsSync(join(folder, path))
    );
  });
}

/** The npm that started us, if one did. */
function npmCommand() {
  const script = process.env["npm_execpath"];
  if (script?.endsWith("npm-cli.js")) return [process.execPath, script];
  return [process.platform === "win32" ? "npm.cmd" : "npm"];
}

/**
 * @param {string} folder
 * @param {string} level
 * @param {string[]} npm
 */
async function install(folder, level, npm) {
  const [command = "npm", ...first] = npm;
  const args = [...first, "ci", "--prefer-offline", "--no-progress", ...(level === "run" ? ["--omit=dev"] : [])];
  const { code, output } = await new Promise((done) => {
    let output = "";
    const child = spawn(command, args, {
      cwd: folder,
      stdio: ["ignore", "pipe", "pipe"],
      shell: command.endsWith(".cmd"),
    });
    for (const stream of [child.stdout, child.stderr]) stream.on("data", (chunk) => (output += chunk));
    child.on("error", (error) => done({ code: -1, output: `${output}${error.message}` }));
    child.on("close", (code) => done({ code, output }));
  });
  if (code === 0) return;
  const offline = /ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ENETUNREACH|EHOSTUNREACH|ETIMEDOUT|ERR_SOCKET_TIMEOUT/.test(output);
  throw new SetupError(
    offline
      ? `Set-up needs the network once, and the package registry cannot be reached. Connect, then run the same command again; later runs need no network.\n\n${output.trim()}`
      : `Set-up failed: "${[command, ...args].join(" ")}" ended with ${code}.\n\n${output.trim()}`,
  );
}

/**
 * Waits for, then takes, the set-up lock; returns the function that gives it back.
 * @param {string} folder
 * @param {(line: string) => void} say
 */
async function takeLock(folder, say) {
  mkdirSync(join(folder, ".setup"), { recursive: true });
  const path = join(folder, ".setup/lock");
  const mine = JSON.stringify({ pid: process.pid, since: Date.now() });
  for (let waits = 0; ; waits++) {
    try {
      writeFileSync(path, mine, { flag: "wx" });
      return () => rmSync(path, { force: true });
    } catch (error) {
      if (/** @type {NodeJS.ErrnoException} */ (error).code !== "EEXIST") throw error;
    }
    if (removeStaleLock(path)) continue;
    if (waits === 0) say("Waiting for another set-up of this folder to finish ...");
    await new Promise((wake) => setTimeout(wake, 200));
  }
}

/**
 * Takes away a lock whose owner is gone. The lock is renamed first, which only one process can do; if it turns out to
 * be a newer one than the one that was judged, it is put back.
 * @param {string} path
 */
function removeStaleLock(path) {
  const judged = readLock(path);
  if (judged === undefined) return true; // given back meanwhile
  if (!isStale(judged, path)) return false;
  const aside = `${path}.${process.pid}`;
  try {
    renameSync(path, aside);
  } catch {
    return true; // another process was quicker
  }
  if (readLock(aside) !== judged) linkSync(aside, path);
  rmSync(aside, { force: true });
  return true;
}

/** @param {string} path */
function readLock(path) {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return undefined;
  }
}

/**
 * @param {string} text of the lock file
 * @param {string} path of the lock file
 */
function isStale(text, path) {
  let lock;
  try {
    lock = JSON.parse(text);
  } catch {
    return lastWrite_ms(path) < Date.now() - 5_000; // otherwise it is being written this instant
  }
  if (Date.now() - lock.since > lockLifetime_ms) return true;
  try {
    process.kill(lock.pid, 0);
    return false;
  } catch (error) {
    return /** @type {NodeJS.ErrnoException} */ (error).code === "ESRCH";
  }
}

/** @param {string} path */
function lastWrite_ms(path) {
  return statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? Number.POSITIVE_INFINITY;
}

/**
 * Runs a script's work and turns a failed set-up into its message and exit status 1.
 * @param {() => Promise<void>} work
 */
export async function withSetupMessages(work) {
  try {
    await work();
  } catch (error) {
    if (!(error instanceof SetupError)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 1;
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const level = process.argv[2] === "full" ? "full" : "run";
  await withSetupMessages(async () => {
    await setUp(level);
  });
}
