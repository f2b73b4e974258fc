/** How TypeScript is bundled into programs for Node, whichever is bundled. */

/** Machine code: it stays where the set-up has put it, no bundler takes it in. */
export const MACHINE_CODE = ["libsql", "@node-rs/argon2"];

/** Packages in CommonJS call `require`, which a module has to make for itself; some ask where they lie. */
const REQUIRE = `import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);`;
const PLACE = `import { dirname as __dirnameOf } from "node:path"; import { fileURLToPath as __pathOf } from "node:url"; const __filename = __pathOf(import.meta.url); const __dirname = __dirnameOf(__filename);`;

/** @satisfies {import("esbuild").BuildOptions} */
export const nodeProgram = {
  bundle: true,
  /** @type {"esm"} */
  format: "esm",
  /** @type {"node"} */
  platform: "node",
  target: "node20",
  banner: { js: REQUIRE },
  external: MACHINE_CODE,
  /** @type {"error"} */
  logLevel: "error",
};

/** A program with parts in `chunks/` beside it, which are loaded when they are needed. @satisfies {import("esbuild").BuildOptions} */
export const nodeProgramInParts = {
  ...nodeProgram,
  chunkNames: "chunks/[name]-[hash]",
  splitting: true,
  /** @type {"external"} */
  legalComments: "external",
};

/** The banner of programs whose packages ask where they lie. */
export const placedBanner = { js: `${REQUIRE} ${PLACE}` };
