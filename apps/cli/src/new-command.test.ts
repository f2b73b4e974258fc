import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Column, columnsOf, type Descriptor, type Result } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { alcedo } from "./testing/console.ts";
import { inScratch } from "./testing/scratch.ts";

const FILES = [
  "README.md",
  "background.csv",
  "calibration.csv",
  "datapackage.json",
  "output-factors.csv",
  "separation.csv",
];

const descriptor = (folder: string) => JSON.parse(readFileSync(join(folder, "datapackage.json"), "utf8")) as Descriptor;

describe("alcedo new", () => {
  test("writes a campaign that evaluates at once, sound and marked as invented", async () =>
    inScratch(async (scratch) => {
      const folder = join(scratch, "deep/er/Fields 2026");
      const { status, out, err } = await alcedo(["new", folder]);
      expect([status, err]).toEqual([0, ""]);
      expect(out).toContain("The readings in it are invented");
      expect(out).toContain(`alcedo evaluate '${folder}'`);
      expect(readdirSync(folder).sort()).toEqual(FILES);
      const { name, title, keywords } = descriptor(folder);
      expect([name, title, keywords]).toEqual([
        "fields-2026",
        "Small-field output factors (example readings: replace them)",
        ["example", "invented"],
      ]);
      expect((await alcedo(["check", folder])).status).toBe(0);
      const run = await alcedo(["evaluate", folder, "--json"]);
      const { standing, stages, findings } = JSON.parse(run.out) as Result;
      expect([run.status, standing, stages.length]).toEqual([0, "sound", 4]);
      expect(findings.filter(({ level }) => level === "error")).toEqual([]);
      expect(findings.map(({ code }) => code)).not.toContain("assumption-default");
      expect((await alcedo(["evaluate", folder])).out).toContain("INVENTED DATA");
    }));

  test("takes title, fibre and channels, and marks the title until the example is replaced", async () =>
    inScratch(async (folder) => {
      const words = ["--title", "Cones, bunker 3", "--fibre", "F-0317", "--channels", "violet,red"];
      expect((await alcedo(["new", folder, ...words])).status).toBe(0);
      const { title, alcedo: own } = descriptor(folder);
      expect(title).toBe("Cones, bunker 3 (example readings: replace them)");
      expect([own.detector.id, own.detector.channels]).toEqual(["F-0317", ["violet", "red"]]);
      expect(readFileSync(join(folder, "separation.csv"), "utf8")).toContain("signal_violet,signal_red");
      expect((await alcedo(["evaluate", folder])).status).toBe(0);
    }));

  test("marks every row of the example as one", async () =>
    inScratch(async (folder) => {
      await alcedo(["new", folder]);
      for (const file of FILES.filter((name) => name.endsWith(".csv"))) {
        const [header, ...rows] = readFileSync(join(folder, file), "utf8").trimEnd().split("\n");
        const note = header!.split(",").indexOf("note");
        expect(rows.length).toBeGreaterThan(0);
        for (const row of rows) expect(row.split(",")[note]).toBe("example: replace");
      }
    }));

  test("with --empty writes headers, which check and evaluate ask to be filled in", async () =>
    inScratch(async (folder) => {
      expect((await alcedo(["new", folder, "--empty", "--channels", "blue,green,red"])).status).toBe(0);
      const { title, keywords } = descriptor(folder);
      expect([title, keywords]).toEqual(["Small-field output factors", undefined]);
      for (const file of FILES.filter((name) => name.endsWith(".csv")))
        expect(readFileSync(join(folder, file), "utf8").trimEnd().split("\n")).toHaveLength(1);
      for (const command of ["check", "evaluate"]) {
        const { status, out, err } = await alcedo([command, folder]);
        expect(status).toBe(2);
        expect((out + err).match(/\[table-empty\]/g)).toHaveLength(4);
      }
    }));

  test("with --no-background leaves the series and its column out, and says that readings are net", async () =>
    inScratch(async (folder) => {
      expect((await alcedo(["new", folder, "--no-background"])).status).toBe(0);
      expect(existsSync(join(folder, "background.csv"))).toBe(false);
      expect(readFileSync(join(folder, "separation.csv"), "utf8")).not.toContain("duration_s");
      const readme = readFileSync(join(folder, "README.md"), "utf8");
      expect(readme).toContain("net");
      expect(readme).not.toContain("duration_s");
      expect((await alcedo(["evaluate", folder])).status).toBe(0);
    }));

  test("has example readings for two channels alone, and says so before it writes", async () =>
    inScratch(async (scratch) => {
      const folder = join(scratch, "three");
      const { status, err } = await alcedo(["new", folder, "--channels", "a,b,c"]);
      expect([status, err]).toEqual([
        2,
        "alcedo new: Example readings are for two channels; with more, say --empty:\nheaders only.\n",
      ]);
      expect(existsSync(folder)).toBe(false);
    }));

  test("explains every column that any of its tables may have, with its unit", async () =>
    inScratch(async (folder) => {
      await alcedo(["new", folder]);
      const readme = readFileSync(join(folder, "README.md"), "utf8");
      const series = ["background", "separation", "calibration", "output-factors"] as const;
      for (const { name, unit, meaning } of series.flatMap((kind): readonly Column[] =>
        columnsOf(kind, ["blue", "green"]),
      )) {
        expect(readme).toContain(`| \`${name}\` | ${unit ?? ""} |`);
        expect(readme).toContain(meaning);
      }
    }));

  test("never writes into a folder that holds anything, and names what it holds", async () =>
    inScratch(async (folder) => {
      const file = join(folder, "separation.csv");
      writeFileSync(file, "mine");
      const { status, out, err } = await alcedo(["new", folder], { columns: 120 });
      expect([status, out]).toEqual([2, ""]);
      expect(err.replaceAll("\n", " ")).toContain("is not empty (separation.csv), and nothing is ever written over.");
      expect(readFileSync(file, "utf8")).toBe("mine");
      expect(readdirSync(folder)).toEqual(["separation.csv"]);
    }));

  test("says why it cannot write: a file in the folder's place, a file on the way", async () =>
    inScratch(async (scratch) => {
      writeFileSync(join(scratch, "file"), "mine");
      mkdirSync(join(scratch, "empty"));
      const said = async (folder: string) => {
        const { status, err } = await alcedo(["new", folder], { columns: 120 });
        expect(status).toBe(2);
        return err.replaceAll("\n", " ");
      };
      expect(await said(join(scratch, "file"))).toContain("cannot be written: a file of that name is there already.");
      expect(await said(join(scratch, "file/below"))).toContain("cannot be written: a part of its path is no folder.");
      expect((await alcedo(["new", join(scratch, "empty")])).status).toBe(0);
    }));

  test("writes the same bytes every time", async () =>
    inScratch(async (scratch) => {
      const bytes = async (name: string) => {
        const folder = join(scratch, name, "fields");
        await alcedo(["new", folder]);
        return FILES.map((file) => readFileSync(join(folder, file), "utf8"));
      };
      expect(await bytes("a")).toEqual(await bytes("b"));
    }));
});
