/**
 * The workbench's page: `apps/web/dist/index.html` and, beside it in `assets/`, scripts, styles and fonts under names that
 * hold the digest of their content, so that a browser may keep them for good.
 *
 * The engine (a web worker) is bundled first: the page has to know what it came to be called.
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { root } from "./setup.mjs";

const usual = "apps/web/dist";

/** @satisfies {import("esbuild").BuildOptions} */
const common = {
  absWorkingDir: root,
  entryNames: "[name]-[hash]",
  chunkNames: "[name]-[hash]",
  assetNames: "[name]-[hash]",
  publicPath: "/assets",
  bundle: true,
  minify: true,
  format: "esm",
  platform: "browser",
  target: ["chrome123", "firefox120", "safari17.5"], // the first that know light-dark()
  jsx: "automatic",
  loader: { ".ttf": "file" },
  legalComments: "external",
  metafile: true,
  logLevel: "error",
};

/**
 * Bundles the page.
 * @param {string} [folder] where it is put, from the root
 * @returns {Promise<string[]>} every file that went in, from the root
 */
export async function buildPage(folder = usual) {
  const outdir = `${folder}/assets`;
  rmSync(join(root, folder), { recursive: true, force: true });
  const esbuild = await import("esbuild");
  const engine = await esbuild.build({ ...common, outdir, entryPoints: ["apps/web/src/engine/worker.ts"] });
  const [engineFile] = entriesOf(engine.metafile);
  const page = await esbuild.build({
    ...common,
    outdir,
    entryPoints: ["apps/web/src/main.tsx"],
    splitting: true,
    define: {
      "process.env.NODE_ENV": '"production"',
      ENGINE_ADDRESS: JSON.stringify(`/assets/${engineFile}`),
    },
  });
  const [script] = entriesOf(page.metafile);
  const styles = Object.keys(page.metafile.outputs).find((path) => path.endsWith(".css"));
  mkdirSync(join(root, folder), { recursive: true });
  const html = readFileSync(join(root, "apps/web/src/index.html"), "utf8")
    .replace("STYLES", `/assets/${basename(styles ?? "")}`)
    .replace("SCRIPT", `/assets/${script}`);
  writeFileSync(join(root, folder, "index.html"), html);
  return [...Object.keys(engine.metafile.inputs), ...Object.keys(page.metafile.inputs), "apps/web/src/index.html"];
}

/** @param {import("esbuild").Metafile} metafile */
function entriesOf({ outputs }) {
  return Object.entries(outputs)
    .filter(
      ([path, { entryPoint }]) =>
        entryPoint !== undefined && /main\.tsx|worker\.ts/.test(entryPoint) && path.endsWith(".js"),
    )
    .map(([path]) => basename(path));
}
