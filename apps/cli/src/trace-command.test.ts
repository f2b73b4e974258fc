import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { concise, type Result } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import type { OriginStep } from "./origin-json.ts";
import { alcedo, widest } from "./testing/console.ts";
import { DEMONSTRATION, inCopyOfDemonstration } from "./testing/scratch.ts";

const OMEGA = "output-factor.cone-5";
const result = JSON.parse((await alcedo(["evaluate", DEMONSTRATION, "--json"])).out) as Result;
const omega = result.quantities.find(({ id }) => id === OMEGA)!;
const origin = async (id: string, ...more: string[]) =>
  (JSON.parse((await alcedo(["trace", DEMONSTRATION, id, "--json", ...more])).out) as { origin: OriginStep }).origin;

describe("alcedo trace", async () => {
  const { status, out, err } = await alcedo(["trace", DEMONSTRATION, OMEGA], { columns: 100 });
  const flat = out.replaceAll(/[\s│├└─]+/g, " ");

  test("begins with the number, its standard uncertainty and the whole of its variance", () => {
    expect([status, err]).toEqual([0, ""]);
    expect(out).toContain(`${OMEGA}: field output factor of cone-5`);
    expect(out).toContain(`Ω_cone-5 = ${concise(omega.value, omega.u)}  field output factor of cone-5 · 100 %`);
  });

  test("gives formulas in symbols and with the numbers put in, so that the sum can be done again", () => {
    expect(flat).toContain("= q̂_blue − ρ · q̂_green");
    const [, blue, ratio, green] = /= ([\d.]+) − ([\d.]+) · ([\d.]+) /.exec(flat)!.map(Number);
    const signal = Number(/S_cone-5 = ([\d.]+)\(/.exec(flat)![1]);
    expect(blue! - ratio! * green!).toBeCloseTo(signal, 5);
  });

  test("shows the readings behind every mean with what was read, as typed", () => {
    const rows = readFileSync(join(DEMONSTRATION, "output-factors.csv"), "utf8")
      .split("\n")
      .filter((line) => line.includes(",cone-5,"))
      .map((line) => line.split(","));
    expect(rows).toHaveLength(5);
    for (const [id, , , , , , , blue] of rows) expect(out).toMatch(new RegExp(`${id} +${blue} `));
  });

  test("marks readings that are left out, with the reason given", () => {
    expect(flat).toMatch(/r048 .* — left out: interlock, beam stopped at 148 MU/);
  });

  test("expands a step once, and afterwards says that it stands above", () => {
    const formulas = out.split("\n").filter((line) => line.includes("the best q_1"));
    expect(formulas).toHaveLength(1);
    expect(flat).toMatch(/ρ = [\d.()]+ stem ratio · [^·]+ · as above/);
  });

  test("goes as deep as is asked for, and says what lies deeper", async () => {
    const depth = async (n: number) => (await alcedo(["trace", DEMONSTRATION, OMEGA, "--depth", `${n}`])).out;
    expect(await depth(0)).toMatch(/… \d+ inputs beneath \(--depth 1\)/);
    expect(await depth(0)).not.toContain("├─");
    expect(await depth(1)).toContain("├─ S_cone-5");
    expect(await depth(1)).not.toContain("r052");
    expect(await depth(2)).toContain("r052");
    expect(await depth(99)).toBe((await alcedo(["trace", DEMONSTRATION, OMEGA])).out);
  });

  test.each([80, 120])("keeps to %d columns", async (columns) => {
    expect(widest((await alcedo(["trace", DEMONSTRATION, OMEGA], { columns })).out)).toBeLessThanOrEqual(columns);
  });

  test("prints the same tree as an object, formulas as text, the shares of a step's inputs adding up to its own", async () => {
    const root = await origin(OMEGA);
    expect(root).toMatchObject({ symbol: "Ω_cone-5", value: omega.value, u: omega.u });
    expect(root.share).toBeCloseTo(1, 9);
    expect(root.formula!.symbols).toContain("S_cone-5");
    let expanded = 0;
    const seen = new Set<number>();
    const walk = (step: OriginStep): void => {
      if (!step.inputs) return;
      expect(seen.has(step.node)).toBe(false);
      seen.add(step.node);
      expanded += 1;
      expect(step.inputs.reduce((sum, input) => sum + input.share, 0)).toBeCloseTo(step.share, 9);
      step.inputs.forEach(walk);
    };
    walk(root);
    expect(expanded).toBeGreaterThan(15);
    const shallow = await origin(OMEGA, "--depth", "0");
    expect([shallow.inputs, shallow.deeper]).toEqual([undefined, root.inputs!.length]);
  });

  test("lists the ids with their values where none is named, and tells them to programs", async () => {
    const list = await alcedo(["trace", DEMONSTRATION], { columns: 120 });
    expect(list.status).toBe(0);
    for (const { id } of result.quantities) expect(list.out).toContain(`${id} `);
    expect(widest((await alcedo(["trace", DEMONSTRATION], { columns: 80 })).out)).toBeLessThanOrEqual(80);
    const machine = JSON.parse((await alcedo(["trace", DEMONSTRATION, "--json"])).out) as { ids: { id: string }[] };
    expect(machine.ids.map(({ id }) => id)).toEqual(result.quantities.map(({ id }) => id));
  });

  test("says of a test that it has no tree, and gives its figures", async () => {
    const { status: ended, out: text } = await alcedo(["trace", DEMONSTRATION, "separation.chi2"]);
    expect(ended).toBe(0);
    expect(text).toContain("0 degrees of freedom");
    expect(text).toContain("It is a test, not a measured quantity");
  });

  test.each([
    ["output-factor.cone5", "output-factor.cone-5"],
    ["stem-ratio", "separation.stem-ratio"],
    ["Separation.Stem-Ratio", "separation.stem-ratio"],
  ])("names the nearest ids to %s", async (asked, nearest) => {
    const { status: ended, out: text, err: errors } = await alcedo(["trace", DEMONSTRATION, asked]);
    expect([ended, text]).toEqual([2, ""]);
    expect(errors).toContain(asked);
    expect(errors).toMatch(new RegExp(`^Near it: .*${nearest.replaceAll(".", "\\.")}`, "m"));
    expect(errors).toContain(`alcedo trace ${DEMONSTRATION}`);
  });

  test("names no near id where none is, and prints nothing a terminal could obey", async () => {
    const { status: ended, err: errors } = await alcedo(["trace", DEMONSTRATION, "\u001b[31mzzzzzzzzzzzzzzzzzzz"]);
    expect(ended).toBe(2);
    expect(errors).not.toContain("Near it");
    expect(errors).not.toContain("\u001b");
  });

  test("traces what a broken campaign still gives, and says what it does not give", async () =>
    inCopyOfDemonstration(async (folder) => {
      for (const file of ["separation.csv", "calibration.csv", "output-factors.csv"]) {
        const text = readFileSync(join(folder, file), "utf8");
        writeFileSync(join(folder, file), text.replace("signal_blue,signal_green", "signal_green,signal_blue"));
      }
      expect((await alcedo(["trace", folder, "separation.stem-ratio"])).status).toBe(0);
      expect((await alcedo(["trace", folder, OMEGA])).status).toBe(2);
    }));
});
