/** The files of the repository that tests read, as paths from its root. */
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** The repository's folder. */
export const root = fileURLToPath(new URL("..", import.meta.url));

/** The files under a folder, at any depth, whose name ends so; none where the folder is not there. Sorted. */
export function filesUnder(folder: string, ending: string): string[] {
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .map((path) => join(folder, path).replaceAll("\\", "/"))
    .filter((path) => path.endsWith(ending) && !path.includes("node_modules/") && !path.includes("/dist/"))
    .sort();
}

/** The documents that users read: the front page, each package's and application's page, and `docs/`. */
export function documents(): string[] {
  const workspaces = ["packages", "apps"].flatMap((group) =>
    readdirSync(join(root, group)).map((name) => `${group}/${name}/README.md`),
  );
  const pages = ["README.md", "CONTRIBUTING.md", ...workspaces, "bench/README.md"];
  return [...pages.filter((path) => existsSync(join(root, path))), ...filesUnder("docs", ".md")];
}
