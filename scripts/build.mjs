/**
 * The build: `apps/cli/dist/alcedo.js`, from the command line's sources and everything they import; what only some commands
 * load lies beside it in `chunks/`, so that the others start without it. And the workbench: its server in
 * `apps/server/dist`, its page in `apps/web/dist`.
 *
 * Beside it lies `alcedo.inputs.json`: the digest of every file that went in. The build is skipped while they all still
 * have it. (A new file cannot matter before an old one imports it, and what lies in `node_modules` follows the lock file.)
 */
import { createHash } from "node:crypto";
import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { buildPage } from "./build-page.mjs";
import { buildServer, serverFile } from "./build-server.mjs";
import { nodeProgramInParts } from "./node-program.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

const entry = "apps/cli/src/main.ts";
/** What threads run that share a Monte Carlo run. */
const worker = "apps/cli/src/monte-carlo-worker.ts";
const folder = "apps/cli/dist";
const output = `${folder}/alcedo.js`;
const record = join(root, folder, "alcedo.inputs.json");
const page = "apps/web/dist/index.html";

/** @returns {Promise<boolean>} true when it had something to do */
export async function build() {
  if (isUpToDate()) return false;
  rmSync(record, { force: true });
  rmSync(join(root, folder, "chunks"), { recursive: true, force: true });
  const esbuild = await import("esbuild");
  const { metafile } = await esbuild.build({
    ...nodeProgramInParts,
    absWorkingDir: root,
    entryPoints: { alcedo: entry, "monte-carlo-worker": worker },
    outdir: folder,
    metafile: true,
  });
  const made = new Set([...Object.keys(metafile.inputs), ...(await buildServer()), ...(await buildPage())]);
  const sources = [...made].filter((path) => !path.includes("node_modules/"));
  const self = relative(root, fileURLToPath(import.meta.url));
  const parts = ["build-server", "build-page", "node-program"].map((name) => `scripts/${name}.mjs`);
  const inputs = [...sources, "package-lock.json", self, ...parts];
  const digests = Object.fromEntries(inputs.sort().map((path) => [path, digest(path)]));
  writeFileSync(record, `${JSON.stringify(digests, null, 2)}\n`);
  return true;
}

function isUpToDate() {
  if (![record, join(root, output), join(root, serverFile), join(root, page)].every(existsSync)) return false;
  const digests = Object.entries(JSON.parse(readFileSync(record, "utf8")));
  return digests.every(([path, was]) => existsSync(join(root, path)) && digest(path) === was);
}

/** @param {string} path from the root */
function digest(path) {
  return createHash("sha256")
    .update(readFileSync(join(root, path)))
    .digest("hex");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await withSetupMessages(async () => {
    await setUp("run");
    await build();
  });
}
