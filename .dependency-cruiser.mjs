/**
 * Who may import whom: the list of docs/design.md ("The house") and nothing else. Besides: no cycles, no way into a
 * package but its index, and no import that the importing package's own manifest does not declare.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";

/** Every package of the house, those to come included. `"types"` allows `import type` alone. */
const house = {
  metrology: {},
  dosimetry: { metrology: "all" },
  campaign: { dosimetry: "all", metrology: "all" },
  tabular: {},
  exchange: { campaign: "all", tabular: "all" },
  simulator: { campaign: "types" },
  recheck: { campaign: "types" },
  figures: {},
  report: { figures: "all", campaign: "all", tabular: "all" },
  archive: { campaign: "all" },
  protocol: { campaign: "types" },
};

/** Tests, and what serves tests alone. */
const test = "(\\.test\\.tsx?|/testing/[^/]+\\.tsx?)$";
const either = (names) => `(?:${names.join("|")})/`;

const houseRules = Object.entries(house).flatMap(([name, mayImport]) => {
  const known = Object.keys(mayImport);
  const typesOnly = known.filter((other) => mayImport[other] === "types");
  const rules = [
    {
      name: `${name}-may-import`,
      comment: `packages/${name} may import ${known.length === 0 ? "no other package" : `only ${known.join(", ")}`}.`,
      severity: "error",
      from: { path: `^packages/${name}/` },
      to: { path: `^(packages/(?!${either([name, ...known])})|apps/)` },
    },
  ];
  if (typesOnly.length > 0) {
    rules.push({
      name: `${name}-types-only`,
      comment: `packages/${name} may take only types from ${typesOnly.join(", ")}: it goes its own way to the numbers.`,
      severity: "error",
      from: { path: `^packages/${name}/`, pathNot: test },
      to: { path: `^packages/${either(typesOnly)}`, dependencyTypesNot: ["type-only"] },
    });
  }
  return rules;
});

/** The cruiser knows which libraries a manifest declares, but not which workspaces. */
const workspaceRules = ["packages", "apps"].flatMap((group) =>
  readdirSync(new URL(`${group}/`, import.meta.url)).flatMap((name) => {
    const path = new URL(`${group}/${name}/package.json`, import.meta.url);
    if (!existsSync(path)) return [];
    const manifest = JSON.parse(readFileSync(path, "utf8"));
    const declared = (kinds) =>
      kinds
        .flatMap((kind) => Object.keys(manifest[kind] ?? {}))
        .flatMap((full) => full.match(/^@alcedo-dosimetry\/(.+)$/)?.[1] ?? []);
    const rule = (kinds, from) => ({
      name: `${name}-declares`,
      comment: `${group}/${name}/package.json must name the workspace package among its dependencies.`,
      severity: "error",
      from: { path: `^${group}/${name}/`, ...from },
      to: { path: `^packages/(?!${either([group === "packages" ? name : "-", ...declared(kinds), "-"])})` },
    });
    return [
      rule(["dependencies"], { pathNot: test }),
      {
        ...rule(["dependencies", "devDependencies"], { path: `^${group}/${name}/.*${test}` }),
        name: `${name}-tests-declare`,
      },
    ];
  }),
);

const rootManifest = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8"));
const testTools = `^node_modules/(?:@types/)?${either(Object.keys(rootManifest.devDependencies))}`;

/** @type {import("dependency-cruiser").IConfiguration} */
export default {
  forbidden: [
    ...houseRules,
    ...workspaceRules,
    {
      name: "not-in-the-house",
      comment: "A new package gets its line in docs/design.md and in .dependency-cruiser.mjs first.",
      severity: "error",
      from: { path: `^packages/(?!${either(Object.keys(house))})` },
      to: {},
    },
    {
      name: "no-app-to-app",
      comment: "Applications do not know each other.",
      severity: "error",
      from: { path: "^apps/([^/]+)/" },
      to: { path: "^apps/", pathNot: "^apps/$1/" },
    },
    {
      name: "no-way-round-the-name",
      comment: "Another package is imported by its name, @alcedo-dosimetry/..., not by a path into its folder.",
      severity: "error",
      from: { path: "^(packages|apps)/([^/]+)/" },
      to: { path: "^packages/", pathNot: "^$1/$2/", dependencyTypes: ["local"] },
    },
    {
      name: "only-the-index",
      comment: "Another package is known by what its index exports; a folder that its manifest names has an index too.",
      severity: "error",
      from: { path: "^(packages|apps)/([^/]+)/" },
      to: {
        path: "^packages/",
        pathNot: "^($1/$2/|packages/[^/]+/src/(?:(?:workbook|tables|folder|fonts|zip)/)?index\\.ts$)",
      },
    },
    {
      name: "no-cycles",
      comment: "Files that need each other are one idea, or one of them knows too much.",
      severity: "error",
      from: {},
      to: { circular: true },
    },
    {
      name: "no-tests-in-code",
      comment: "Code does not import tests, nor what serves tests alone (testing/).",
      severity: "error",
      from: { pathNot: test },
      to: { path: test },
    },
    {
      name: "resolvable",
      comment: "Nothing is there under this name.",
      severity: "error",
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: "declared",
      comment: "The package's own manifest must name the library among its dependencies.",
      severity: "error",
      from: { pathNot: test },
      to: { dependencyTypes: ["npm-no-pkg", "npm-dev", "npm-unknown", "npm-optional", "npm-peer"] },
    },
    {
      name: "declared-for-tests",
      comment: "A library that tests use stands in the package's own manifest or among the root's devDependencies.",
      severity: "error",
      from: { path: test },
      to: { dependencyTypes: ["npm-no-pkg", "npm-unknown"], pathNot: testTools },
    },
    {
      name: "no-node-in-packages",
      comment:
        "The packages run in a browser as in Node. Exceptions: the archive's way to the disk, and people's keys; its database's library has one file too.",
      severity: "error",
      from: { path: "^packages/", pathNot: [test, "^packages/archive/src/folder/(disk|personal-key)\\.ts$"] },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "one-database-driver",
      comment: "The database's library is known to one file: another one is a change there and nowhere else.",
      severity: "error",
      from: { pathNot: [test, "^packages/archive/src/folder/sqlite-file\\.ts$"] },
      to: { path: "^node_modules/libsql/" },
    },
    {
      name: "one-keyring",
      comment: "What makes and wraps people's keys is known to one file: passphrases go nowhere else.",
      severity: "error",
      from: { pathNot: [test, "^packages/archive/src/folder/personal-key\\.ts$"] },
      to: { path: "^node_modules/@node-rs/argon2/" },
    },
    {
      name: "folder-knows-archive",
      comment: "What needs a disk (folder/) stands on the archive, not under it: the rest serves other databases too.",
      severity: "error",
      from: { path: "^packages/archive/src/", pathNot: ["^packages/archive/src/folder/", test] },
      to: { path: "^packages/archive/src/folder/" },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    exclude: { path: "/dist/" },
    tsPreCompilationDeps: "specify",
    tsConfig: { fileName: "tsconfig.json" },
    combinedDependencies: false,
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "require", "node", "default"] },
  },
};
