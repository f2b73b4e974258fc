import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alcedo, widest } from "./testing/console.ts";
import { DEMONSTRATION, inCopyOfDemonstration } from "./testing/scratch.ts";

describe("alcedo check", () => {
  test("says what a well-formed campaign holds: series, readings, those left out, conditions", async () => {
    const { status, out, err } = await alcedo(["check", DEMONSTRATION], { columns: 100 });
    expect([status, err]).toEqual([0, ""]);
    expect(out).toContain(`● ${DEMONSTRATION} is well formed.`);
    expect(out).toMatch(/^background +background\.csv +10 +0 +before 5, after 5$/m);
    expect(out).toMatch(/^separation +separation\.csv +18 +0 +short 5, long 5, half 4, turned 4$/m);
    expect(out).toMatch(/^calibration +calibration\.csv +5 +0 +reference 5$/m);
    expect(out).toMatch(/^output-factors +output-factors\.csv +60 +1 +100x100 15, 60x60 5,/m);
  });

  test("says the same as an object", async () => {
    const { status, out, err } = await alcedo(["check", DEMONSTRATION, "--json"]);
    expect([status, err]).toEqual([0, ""]);
    const { campaign, sound, series, findings } = JSON.parse(out) as {
      campaign: string;
      sound: boolean;
      series: { series: string; readings: number; excluded: number; conditions: unknown[] }[];
      findings: unknown[];
    };
    expect([campaign, sound, findings]).toEqual(["demonstration-fernhill-cones", true, []]);
    expect(series.map(({ series: name, readings, excluded }) => [name, readings, excluded])).toEqual([
      ["background", 10, 0],
      ["separation", 18, 0],
      ["calibration", 5, 0],
      ["output-factors", 60, 1],
    ]);
    expect(series[0]!.conditions).toEqual([
      { name: "before", readings: 5 },
      { name: "after", readings: 5 },
    ]);
  });

  test("names notices beneath, and is still content", async () =>
    inCopyOfDemonstration(async (folder) => {
      writeFileSync(join(folder, "spare.csv"), "a,b\n1,2\n");
      const { status, out } = await alcedo(["check", folder]);
      expect(status).toBe(0);
      expect(out.replaceAll(/\s+/g, " ")).toContain("is well formed; 1 notice.");
      expect(out).toContain("[file-unlisted]");
    }));

  test("judges form alone: a campaign whose physics is refused is well formed", async () =>
    inCopyOfDemonstration(async (folder) => {
      for (const file of ["separation.csv", "calibration.csv", "output-factors.csv"]) {
        const text = readFileSync(join(folder, file), "utf8");
        writeFileSync(join(folder, file), text.replace("signal_blue,signal_green", "signal_green,signal_blue"));
      }
      expect((await alcedo(["check", folder])).status).toBe(0);
      expect((await alcedo(["evaluate", folder])).status).toBe(1);
    }));

  test("lists a reference set by its values", async () =>
    inCopyOfDemonstration(async (folder) => {
      writeFileSync(
        join(folder, "set.csv"),
        "condition,output_factor,u_percent,source\n10x10,0.70,1.5,invented\n6x6,0.58,1.5,invented\n",
      );
      const path = join(folder, "datapackage.json");
      const descriptor = JSON.parse(readFileSync(path, "utf8")) as { resources: unknown[] };
      descriptor.resources.push({ name: "set", path: "set.csv", alcedo: { series: "reference-set" } });
      writeFileSync(path, JSON.stringify(descriptor));
      const { status, out } = await alcedo(["check", folder], { columns: 100 });
      expect(status).toBe(0);
      expect(out).toMatch(/^reference-set +set\.csv +2 +0/m);
    }));

  test("lists output corrections by their values, and evaluate says what they replace", async () =>
    inCopyOfDemonstration(async (folder) => {
      writeFileSync(
        join(folder, "k.csv"),
        "equivalent_square_mm,output_correction,u_percent,source\n4,1.03,0.8,invented\n110,1,0,invented\n",
      );
      const path = join(folder, "datapackage.json");
      const descriptor = JSON.parse(readFileSync(path, "utf8")) as { resources: unknown[] };
      descriptor.resources.push({ name: "k", path: "k.csv", alcedo: { series: "output-corrections" } });
      writeFileSync(path, JSON.stringify(descriptor));
      const { status, out } = await alcedo(["check", folder], { columns: 100 });
      expect(status).toBe(0);
      expect(out).toMatch(/^output-corrections +k\.csv +2 +0/m);
      const evaluated = await alcedo(["evaluate", folder]);
      expect(evaluated.out.replaceAll(/\s+/g, " ")).toContain("outputCorrection, 1 with u = 0.005, is not used");
      expect((await alcedo(["recheck", folder])).status).toBe(0);
    }));

  test.each([80, 120])("keeps to %d columns", async (columns) =>
    inCopyOfDemonstration(async (folder) => {
      const text = readFileSync(join(folder, "separation.csv"), "utf8");
      for (const spoilt of [text, text.replaceAll("10.4", "10x4")]) {
        writeFileSync(join(folder, "separation.csv"), spoilt);
        expect(widest((await alcedo(["check", folder], { columns })).out)).toBeLessThanOrEqual(columns);
      }
    }),
  );
});
