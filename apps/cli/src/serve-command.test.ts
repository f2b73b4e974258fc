import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it, onTestFinished } from "vitest";
import { serverProcess } from "./server-process.ts";
import { alcedo } from "./testing/console.ts";

/** Runs `alcedo serve` with a server that only notes what it is told. */
async function serve(words: readonly string[], status: number | undefined = 0) {
  const told: Readonly<Record<string, string>>[] = [];
  const startServer = async (settings: Readonly<Record<string, string>>) => {
    told.push(settings);
    return Promise.resolve(status);
  };
  return { told, ...(await alcedo(["serve", ...words], { startServer })) };
}

describe("alcedo serve", () => {
  it("tells the server in its environment what is said, and nothing else", async () => {
    expect((await serve([])).told).toEqual([{}]);
    const words = ["/data/alcedo", "--port", "0", "--host", "localhost", "--example", "examples/demonstration"];
    expect((await serve(words)).told).toEqual([
      { ALCEDO_HOME: "/data/alcedo", PORT: "0", HOST: "localhost", ALCEDO_TAKE_IN: "examples/demonstration" },
    ]);
  });

  it("refuses what is no port before anything starts", async () => {
    const { status, err, told } = await serve(["--port", "70000"]);
    expect([status, told]).toEqual([2, []]);
    expect(err).toContain("1 to 65535");
  });

  it("ends as the server does", async () => {
    expect((await serve([], 0)).status).toBe(0);
    expect((await serve([], 2)).status).toBe(2);
    expect((await serve([], 1)).status).toBe(3);
  });

  it("says so where the workbench is not built", async () => {
    const { status, err } = await alcedo(["serve"]);
    expect([status, err]).toEqual([2, expect.stringContaining("npm run build")]);
    expect(await serverProcess(new URL("file:///nowhere/server.js"), {})).toBeUndefined();
  });

  it("says in its help where the data are and what another address needs", async () => {
    const { out } = await alcedo(["help", "serve"]);
    for (const word of ["ALCEDO_HOME", "ALCEDO_URL", "network share", "backups", "--port"]) expect(out).toContain(word);
  });
});

describe("the server's process", () => {
  it("has this environment and the settings, and its status is given back", async () => {
    const folder = mkdtempSync(join(tmpdir(), "alcedo-serve-"));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    const script = join(folder, "server.mjs");
    writeFileSync(script, "process.exit(process.env.PORT === '7' && process.env.PATH ? 5 : 6);");
    expect(await serverProcess(pathToFileURL(script), { PORT: "7" })).toBe(5);
  });
});
