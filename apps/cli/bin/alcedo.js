#!/usr/bin/env node
import { existsSync } from "node:fs";
import module from "node:module";

const built = new URL("../dist/alcedo.js", import.meta.url);

if (existsSync(built)) {
  // Node 22 and newer start faster with it; the types are Node 20's.
  /** @type {{ enableCompileCache?: () => void }} */ (module).enableCompileCache?.();
  await import(built.href);
} else {
  process.stderr.write("Alcedo is not built yet: run `npm start` once in its folder, then this command again.\n");
  process.exitCode = 2;
}
