import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { requireNode, setUp } from "../../scripts/setup.mjs";

/** A repository with a lock file and an npm that writes down what it was asked, slowly. */
let folder: string;
let said: string[];

const lock = {
  packages: { "": {}, "node_modules/a": { version: "1.0.0" }, "node_modules/b": { version: "2.0.0", dev: true } },
};
const calls = () =>
  existsSync(join(folder, "calls")) ? readFileSync(join(folder, "calls"), "utf8").trim().split("\n") : [];
const npm = () => [process.execPath, join(folder, "npm.mjs")];
const run = (level: "run" | "full") => setUp(level, { folder, npm: npm(), say: (line: string) => said.push(line) });
const write = (path: string, text: string) => writeFileSync(join(folder, path), text);
const fakeNpm = (extra: string) =>
  write(
    "npm.mjs",
    `import { appendFileSync, mkdirSync } from "node:fs";
     appendFileSync("calls", process.argv.slice(2).join(" ") + "\\n");
     await new Promise((wake) => setTimeout(wake, 150));
     mkdirSync("node_modules", { recursive: true });
     ${extra}`,
  );

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "alcedo-setup-"));
  said = [];
  write("package.json", "{}");
  write("package-lock.json", JSON.stringify(lock));
  mkdirSync(join(folder, "packages/one"), { recursive: true });
  write("packages/one/package.json", "{}");
  fakeNpm("");
});

afterEach(() => rmSync(folder, { recursive: true }));

describe("set-up", () => {
  test("installs once and is then silent", async () => {
    expect(await run("run")).toBe(true);
    expect(await run("run")).toBe(false);
    expect(calls()).toEqual(["ci --prefer-offline --no-progress --omit=dev"]);
    expect(said).toHaveLength(1);
  });

  test("the full level satisfies the other, not the other way round", async () => {
    await run("run");
    await run("full");
    await run("run");
    expect(calls()).toEqual(["ci --prefer-offline --no-progress --omit=dev", "ci --prefer-offline --no-progress"]);
  });

  test("a changed lock file or manifest sets up again, and keeps the full level", async () => {
    await run("full");
    write("packages/one/package.json", '{ "name": "one" }');
    await run("run");
    write("package-lock.json", JSON.stringify({ ...lock, version: "2" }));
    await run("run");
    expect(calls()).toEqual(Array(3).fill("ci --prefer-offline --no-progress"));
  });

  test("two at the same time install once", async () => {
    expect(await Promise.all([run("run"), run("run")])).toEqual([true, true]);
    expect(calls()).toHaveLength(1);
    expect(existsSync(join(folder, ".setup/lock"))).toBe(false);
  });

  test("a lock whose owner is gone, or that was left half written, holds nobody up", async () => {
    mkdirSync(join(folder, ".setup"));
    write(".setup/lock", JSON.stringify({ pid: 2 ** 22 + 1, since: Date.now() }));
    await run("run");
    write(".setup/lock", "");
    utimesSync(join(folder, ".setup/lock"), new Date(0), new Date(0));
    await run("full");
    expect(calls()).toHaveLength(2);
    expect(existsSync(join(folder, ".setup/lock"))).toBe(false);
  });

  test("an npm that fails leaves no stamp and frees the lock", async () => {
    fakeNpm("console.error('npm error code E404'); process.exit(1);");
    await expect(run("run")).rejects.toThrow("E404");
    fakeNpm("");
    expect(await run("run")).toBe(true);
  });

  test("without a network the message says so and what to do", async () => {
    fakeNpm("console.error('npm error request failed, reason: getaddrinfo EAI_AGAIN'); process.exit(1);");
    await expect(run("run")).rejects.toThrow(/needs the network once.*run the same command again/s);
  });

  test("an installation by hand that fits the lock file is taken as it is; one that does not is not", async () => {
    mkdirSync(join(folder, "node_modules/a"), { recursive: true });
    const there = { packages: { "node_modules/a": lock.packages["node_modules/a"] } };
    write("node_modules/.package-lock.json", JSON.stringify(there));
    expect(await run("run")).toBe(false);
    expect(calls()).toEqual([]);
    expect(await run("full")).toBe(true);
    expect(calls()).toEqual(["ci --prefer-offline --no-progress"]);
  });
});

describe("Node's version", () => {
  test("20.19 and newer will do", () => {
    for (const version of ["20.19.0", "20.20.2", "22.0.0", "24.1.0"]) expect(() => requireNode(version)).not.toThrow();
  });

  test("an older one is refused with the way out", () => {
    for (const version of ["18.20.4", "20.18.3"]) {
      expect(() => requireNode(version)).toThrow(`this is Node ${version}. Install a newer Node`);
    }
  });
});
