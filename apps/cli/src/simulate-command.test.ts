import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Descriptor, Result } from "@alcedo-dosimetry/campaign";
import { MISTAKES, REGIMES } from "@alcedo-dosimetry/simulator";
import { describe, expect, test } from "vitest";
import { alcedo, widest } from "./testing/console.ts";
import { inScratch } from "./testing/scratch.ts";

const FILES = ["background.csv", "calibration.csv", "datapackage.json", "output-factors.csv", "separation.csv"];

interface WrittenTruth {
  readonly regime: string;
  readonly seed: number;
  readonly mistakes: readonly { readonly kind: string; readonly size?: number; readonly places: readonly object[] }[];
  readonly quantities: Readonly<Record<string, number>>;
}

const contents = (folder: string) => FILES.map((file) => readFileSync(join(folder, file), "utf8"));

const evaluated = async (folder: string) => JSON.parse((await alcedo(["evaluate", folder, "--json"])).out) as Result;

describe("alcedo simulate", () => {
  test("writes a campaign that evaluates, and says loudly that it is simulated", async () =>
    inScratch(async (scratch) => {
      const folder = join(scratch, "deep/er/Night 3");
      const { status, out, err } = await alcedo(["simulate", folder]);
      expect([status, err]).toEqual([0, ""]);
      expect(out.replaceAll(/\s+/g, " ")).toMatch(/^SIMULATED DATA: no such place, .* Not for use\./);
      expect(out).toContain(`alcedo evaluate '${folder}'`);
      expect(readdirSync(folder).sort()).toEqual(FILES);
      const { title, keywords } = JSON.parse(readFileSync(join(folder, "datapackage.json"), "utf8")) as Descriptor;
      expect([title, keywords]).toEqual(["Simulated campaign, seed 1", ["simulated"]]);
      expect((await alcedo(["check", folder])).status).toBe(0);
      expect((await alcedo(["evaluate", folder])).out).toContain("INVENTED DATA");
    }));

  test("writes the truth beside it, which the results lie near to", async () =>
    inScratch(async (folder) => {
      expect((await alcedo(["simulate", folder, "--seed", "7", "--truth"])).status).toBe(0);
      const truth = JSON.parse(readFileSync(join(folder, "truth.json"), "utf8")) as WrittenTruth;
      expect(truth).toMatchObject({ regime: "five-repeats", seed: 7, mistakes: [] });
      const { standing, quantities } = await evaluated(folder);
      expect(standing).toBe("sound");
      for (const id of ["separation.stem-ratio", "calibration.coefficient", "output-factor.cone-5"]) {
        const { value, u } = quantities.find((quantity) => quantity.id === id)!;
        expect(Math.abs(value - truth.quantities[id]!) / u!).toBeLessThan(4);
      }
    }));

  test("makes the mistakes that it is told, in turn, and the truth says where", async () =>
    inScratch(async (folder) => {
      const mistakes = ["--mistake", "dose-unequal=-3", "--mistake", "outlier"];
      const { status, out } = await alcedo(["simulate", folder, ...mistakes, "--truth"]);
      expect(status).toBe(0);
      expect(out).toContain("Regime five-repeats, seed 1, dose-unequal=-3, outlier=5.");
      const truth = JSON.parse(readFileSync(join(folder, "truth.json"), "utf8")) as WrittenTruth;
      expect(truth.mistakes.map(({ kind, size }) => [kind, size])).toEqual([
        ["dose-unequal", -3],
        ["outlier", 5],
      ]);
      expect(truth.mistakes[0]!.places).toEqual([{ series: "separation", condition: "long" }]);
      expect((await evaluated(folder)).findings.map(({ code }) => code)).toContain("verification-failed");
    }));

  test("writes the same bytes for the same seed, and others for another seed or regime", async () =>
    inScratch(async (scratch) => {
      const bytes = async (name: string, ...words: string[]) => {
        const folder = join(scratch, name);
        expect((await alcedo(["simulate", folder, ...words])).status).toBe(0);
        return contents(folder);
      };
      const first = await bytes("a", "--seed", "3");
      expect(await bytes("b", "--seed", "3")).toEqual(first);
      expect(await bytes("c", "--seed", "4")).not.toEqual(first);
      expect((await bytes("d", "--seed", "3", "--regime", "ten-repeats"))[1]!.split("\n").length).toBeGreaterThan(
        first[1]!.split("\n").length,
      );
    }));

  test("never writes into a folder that holds anything", async () =>
    inScratch(async (folder) => {
      writeFileSync(join(folder, "mine.txt"), "mine");
      const { status, out, err } = await alcedo(["simulate", folder, "--truth"], { columns: 120 });
      expect([status, out]).toEqual([2, ""]);
      expect(err).toMatch(/^alcedo simulate: /);
      expect(err.replaceAll("\n", " ")).toContain("is not empty (mine.txt), and nothing is ever written over.");
      expect(readdirSync(folder)).toEqual(["mine.txt"]);
    }));

  test("says why a mistake cannot be made there, and writes nothing", async () =>
    inScratch(async (folder) => {
      const words = ["--regime", "no-monitor", "--mistake", "monitor-mistyped"];
      const { status, out, err } = await alcedo(["simulate", folder, ...words]);
      expect([status, out]).toEqual([2, ""]);
      expect(err.replaceAll("\n", " ")).toBe(
        "alcedo simulate: monitor-mistyped cannot be made in the regime no-monitor: this mistake needs the column monitor in the output factors, and it is not written. ",
      );
      const saturated = await alcedo(["simulate", folder, "--mistake", "first-channel-saturated=80"]);
      expect([saturated.status, saturated.err]).toEqual([2, expect.stringContaining("less than 50 %")]);
      expect(readdirSync(folder)).toEqual([]);
    }));

  test("asks for the folder", async () => {
    const { status, out, err } = await alcedo(["simulate"]);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toContain("FOLDER is missing");
  });

  test("lists every regime and every mistake with its meaning", async () => {
    const { status, out, err } = await alcedo(["simulate", "--list"]);
    expect([status, err]).toEqual([0, ""]);
    for (const name of [...Object.keys(REGIMES), ...Object.keys(MISTAKES)])
      expect(out).toMatch(new RegExp(`^${name} +\\w`, "m"));
    expect(out.replaceAll(/\s+/g, " ")).toContain("Size: more dose, %; usually 1.");
    expect(widest(out)).toBeLessThanOrEqual(80);
  });
});
