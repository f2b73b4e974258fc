import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { concise, type Result } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { alcedo, widest, withoutColour } from "./testing/console.ts";
import { DEMONSTRATION, inCopyOfDemonstration } from "./testing/scratch.ts";

const json = async (folder: string) => {
  const { status, out, err } = await alcedo(["evaluate", folder, "--json"]);
  return { status, err, result: JSON.parse(out) as Result };
};

/** Changes the text of one file of a campaign. */
function edit(folder: string, file: string, change: (text: string) => string): void {
  const path = join(folder, file);
  const before = readFileSync(path, "utf8");
  const after = change(before);
  if (after === before) throw new Error(`the trial left ${file} as it was`);
  writeFileSync(path, after);
}

describe("alcedo evaluate", async () => {
  const { status, out, err } = await alcedo(["evaluate", DEMONSTRATION]);
  const { result } = await json(DEMONSTRATION);

  test("says whose campaign it is, and that its data are invented, above and below the figures", () => {
    expect([status, err]).toEqual([0, ""]);
    expect(out).toContain("Cones and small fields, Fernhill bunker 3 (invented)");
    expect(out).toContain("fibre F-0317, 1 × 1 mm, along the beam");
    expect(out).toContain(`input ${result.input.slice(0, "sha256:".length + 12)}…`);
    expect(out.match(/INVENTED DATA/g)).toHaveLength(2);
  });

  test("gives each stage its mark, word, main result and reason", () => {
    for (const { standing, reason } of result.stages) {
      expect(out).toContain(`● ${standing}`);
      expect(out.replaceAll(/\s+/g, " ")).toContain(reason);
    }
    const ratio = result.quantities.find(({ id }) => id === "separation.stem-ratio")!;
    expect(out).toContain(`stem ratio ρ ${concise(ratio.value, ratio.u)}`);
    const coefficient = result.quantities.find(({ id }) => id === "calibration.coefficient")!;
    expect(out).toContain(`N_D ${concise(coefficient.value, coefficient.u)} Gy/nC`);
  });

  test("says what the brackets mean", () => {
    expect(out).toContain("0.6123(21) is 0.6123 with a standard uncertainty of 0.0021.");
  });

  test("shows the separation's conditions with the net light of both channels and the verdict on those kept aside", () => {
    const rows = out.split("\n").filter((line) => /^(short|long|half|turned) /.test(line));
    expect(rows).toHaveLength(4);
    for (const row of rows) expect(row).toMatch(/^\S+ +(fit|verify) +\d+\.\d{4} +\d+\.\d{4} /);
    for (const row of rows.filter((line) => line.includes("verify"))) expect(row).toContain("● agrees");
  });

  test("shows every output factor with U, U in per cent and what contributes most", () => {
    const factors = result.quantities.filter(({ id }) => id.startsWith("output-factor."));
    expect(factors).toHaveLength(9);
    const lines = out.split("\n");
    for (const { id, value, u, U } of factors) {
      const row = lines.find((line) => line.startsWith(`${id.slice("output-factor.".length)} `) && line.includes("×"))!;
      expect(row).toContain(concise(value, u));
      expect(row).toContain(` ${U!.toPrecision(2)} `);
      expect(row).toContain(` ${((100 * U!) / value).toPrecision(2)} `);
      expect(row).toMatch(/ [a-z].* \d+ %$/);
    }
  });

  test("shows every finding with level, code, effect and remedy", () => {
    const flat = out.replaceAll(/\s+/g, " ");
    for (const { code, effect, remedy } of result.findings) {
      expect(out).toContain(`[${code}]`);
      if (effect) expect(flat).toContain(`Effect: ${effect}`);
      if (remedy) expect(flat).toContain(`Remedy: ${remedy}`);
    }
  });

  test("ends with the cautions", () => {
    const end = out.slice(out.lastIndexOf("INVENTED DATA")).replaceAll(/\s+/g, " ");
    for (const caution of [
      "not a medical device",
      "qualified medical physicist",
      "Check independently",
      "Local codes",
      "Keep patient data out",
    ])
      expect(end).toContain(caution);
  });

  test.each([80, 100, 120])("keeps to %d columns", async (columns) => {
    expect(widest((await alcedo(["evaluate", DEMONSTRATION], { columns })).out)).toBeLessThanOrEqual(columns);
  });

  test("tells of columns for which there is no room, and shows them where there is", async () => {
    const flat = async (columns: number) =>
      (await alcedo(["evaluate", DEMONSTRATION], { columns })).out.replaceAll(/\s+/g, " ");
    expect(await flat(80)).toContain("No room for: dose Gy, stem load.");
    expect(await flat(120)).not.toContain("No room for");
    expect(await flat(120)).toContain("dose Gy stem load");
  });

  test("says in colour nothing that it does not say without", async () => {
    const coloured = (await alcedo(["evaluate", DEMONSTRATION], { isTTY: true, columns: 80 })).out;
    expect(coloured).toContain("\u001b[");
    expect(withoutColour(coloured)).toBe((await alcedo(["evaluate", DEMONSTRATION], { columns: 80 })).out);
  });

  test("prints with --json one object, the result, and nothing else on either stream", async () => {
    const machine = await alcedo(["evaluate", DEMONSTRATION, "--json"], { isTTY: true });
    expect([machine.status, machine.err]).toEqual([0, ""]);
    const { alcedo: version, campaign, standing, stages, quantities } = JSON.parse(machine.out) as Result;
    expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    expect([campaign, standing, stages.length]).toEqual(["demonstration-fernhill-cones", "sound", 4]);
    for (const { budget, u } of quantities)
      if (u !== null && u > 0 && budget.length > 0)
        expect(budget.reduce((sum, line) => sum + line.share, 0)).toBeCloseTo(1, 9);
  });

  test("says which figures are not given, and why, where the campaign lacks what they need", async () =>
    inCopyOfDemonstration(async (folder) => {
      edit(folder, "datapackage.json", (text) => {
        const descriptor = JSON.parse(text) as { resources: { name: string }[] };
        descriptor.resources = descriptor.resources.filter(
          ({ name }) => name === "background" || name === "separation",
        );
        return JSON.stringify(descriptor);
      });
      const run = await alcedo(["evaluate", folder]);
      expect(run.status).toBe(0);
      const flat = run.out.replaceAll(/\s+/g, " ");
      expect(flat).toContain("Doses not given: nothing ties the signal to dose");
      expect(flat).toContain("Output factors not given: this campaign has no readings of them.");
      expect(run.out).toContain("—           Calibration     no readings in this campaign");
    }));

  test("marks a verification that fails, its table and the campaign, and ends with status 1", async () =>
    inCopyOfDemonstration(async (folder) => {
      edit(folder, "separation.csv", (text) =>
        text.replaceAll(
          /^(s01[1-4].*,)(17\.\d+),/gm,
          (_, head: string, blue: string) => `${head}${(Number(blue) * 1.02).toFixed(4)},`,
        ),
      );
      const run = await alcedo(["evaluate", folder]);
      expect(run.status).toBe(1);
      expect(run.out).toMatch(/^half +verify.*✕ fails/m);
      expect(run.out).toContain("Separation ✕ broken");
      expect(run.out).toContain("Output factors ✕ broken");
      expect(run.out).toContain("The campaign is ✕ broken.");
      const machine = await json(folder);
      expect([machine.status, machine.result.standing]).toEqual([1, "broken"]);
    }));

  test("repeats errors on standard error beside the object, and refuses what it cannot give", async () =>
    inCopyOfDemonstration(async (folder) => {
      edit(folder, "separation.csv", (text) => text.replace("signal_blue,signal_green", "signal_green,signal_blue"));
      edit(folder, "calibration.csv", (text) => text.replace("signal_blue,signal_green", "signal_green,signal_blue"));
      const { status: ended, err: errors, result: refused } = await json(folder);
      expect(ended).toBe(1);
      const error = refused.findings.find(({ level }) => level === "error")!;
      expect(errors).toContain(`[${error.code}]`);
      expect(errors).not.toContain("▲ warning");
      expect(refused.quantities.some(({ id }) => id === "calibration.coefficient")).toBe(false);
      expect((await alcedo(["evaluate", folder])).out.replaceAll(/\s+/g, " ")).toContain("Output factors not given: ");
    }));

  test("works on folders with blanks and letters of any script in their names", async () =>
    inCopyOfDemonstration(async (folder) => {
      const odd = join(folder, "..", "Büro 3, 小 照射野");
      const { status: made } = await alcedo(["new", odd]);
      expect(made).toBe(0);
      expect((await alcedo(["evaluate", odd])).status).toBe(0);
    }));
});
