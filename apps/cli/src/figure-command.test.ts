import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alcedo, widest } from "./testing/console.ts";
import { DEMONSTRATION, inCopyOfDemonstration } from "./testing/scratch.ts";

const figure = (...words: string[]) => alcedo(["figure", DEMONSTRATION, ...words], { columns: 100 });

describe("alcedo figure", () => {
  test("lists the figures with their headings in the order of the chain", async () => {
    const { status, out, err } = await figure();
    expect([status, err]).toEqual([0, ""]);
    const ids = [...out.matchAll(/^([a-z][\w.-]+) {2,}\S/gm)].map(([, id]) => id!);
    expect(ids.slice(1, 7)).toEqual([
      "geometry.separation",
      "separation",
      "stem-load",
      "geometry.output-factors",
      "output-factors",
      "reference-drift",
    ]);
    expect(ids).toContain("budget.output-factor.cone-5");
    expect(ids).toContain("readings.output-factors.cone-7.5");
    expect(widest((await alcedo(["figure", DEMONSTRATION], { columns: 80 })).out)).toBeLessThanOrEqual(80);
  });

  test("writes one picture to standard output, and nothing else there", async () => {
    const { status, out, err } = await figure("separation");
    expect([status, err]).toEqual([0, ""]);
    expect(out).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"[^>]*role="img"/);
    expect(out).toMatch(/<\/svg>\n$/);
    expect(out).toContain("#fffef9");
  });

  test("draws it for a dark room or for print where asked", async () => {
    expect((await figure("separation", "--theme", "dark")).out).toContain("#182026");
    expect((await figure("separation", "--theme", "print")).out).toContain("#ffffff");
    const { status, err } = await figure("separation", "--theme", "blue");
    expect(status).toBe(2);
    expect(err).toContain("light, dark, print");
  });

  test("writes a new file, and never over one", async () =>
    inCopyOfDemonstration(async (folder) => {
      const file = join(folder, "separation.svg");
      const first = await alcedo(["figure", folder, "separation", "--out", file]);
      expect(first).toMatchObject({ status: 0, err: "" });
      expect(readFileSync(file, "utf8")).toBe((await figure("separation")).out);
      writeFileSync(file, "mine");
      const second = await alcedo(["figure", folder, "separation", "--out", file]);
      expect([second.status, second.out]).toEqual([2, ""]);
      expect(second.err.replaceAll(/\s+/g, " ")).toContain("is there already, and nothing is ever written over");
      expect(readFileSync(file, "utf8")).toBe("mine");
    }));

  test("says why a file cannot be written, and which figure is missing for one", async () =>
    inCopyOfDemonstration(async (folder) => {
      const file = join(folder, "nowhere", "a.svg");
      const { status, err } = await alcedo(["figure", folder, "separation", "--out", file]);
      expect(status).toBe(2);
      expect(err.replaceAll(/\s+/g, " ")).toContain("cannot be written: its folder is not there");
      const without = await alcedo(["figure", folder, "--out", join(folder, "b.svg")]);
      expect(without.status).toBe(2);
      expect(without.err).toContain("--out needs the ID");
      expect(existsSync(join(folder, "b.svg"))).toBe(false);
    }));

  test("names the nearest ids to one that is not there, and prints nothing a terminal could obey", async () => {
    const { status, out, err } = await figure("output-factor");
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(/^Near it: .*output-factors/m);
    expect(err).toContain(`alcedo figure ${DEMONSTRATION}`);
    expect((await figure("\u001b[31mzzzzzzzzzzzzzzzzzzz")).err).not.toContain("\u001b");
  });

  test("draws nothing of what cannot be evaluated, and says why", async () =>
    inCopyOfDemonstration(async (folder) => {
      writeFileSync(join(folder, "separation.csv"), "reading\n");
      const { status, out, err } = await alcedo(["figure", folder, "separation"]);
      expect([status, out]).toEqual([2, ""]);
      expect(err).toContain("separation.csv");
    }));
});
