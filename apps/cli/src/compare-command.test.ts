import { cpSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alcedo, widest } from "./testing/console.ts";
import { DEMONSTRATION, inCopyOfDemonstration } from "./testing/scratch.ts";

interface Compared {
  readonly before: { readonly input: string; readonly standing: string };
  readonly after: { readonly input: string; readonly standing: string };
  readonly quantities: readonly {
    readonly id: string;
    readonly change: number;
    readonly remainder: number;
    readonly uBefore: number;
    readonly uAfter: number;
    readonly attributions: readonly { readonly input: string; readonly change: number; readonly values: unknown }[];
  }[];
  readonly unchanged: number;
  readonly onlyBefore: readonly string[];
  readonly onlyAfter: readonly string[];
  readonly standings: readonly { readonly id: string; readonly before: string; readonly after: string }[];
  readonly appeared: readonly { readonly code: string }[];
  readonly disappeared: readonly { readonly code: string }[];
}

/** Compares the demonstration with a changed copy of it, as text and as an object. */
async function compared(file: string, change: (text: string) => string, columns = 100) {
  return inCopyOfDemonstration(async (folder) => {
    const path = join(folder, file);
    const before = readFileSync(path, "utf8");
    expect(change(before)).not.toBe(before);
    writeFileSync(path, change(before));
    const { status, out, err } = await alcedo(["compare", DEMONSTRATION, folder], { columns });
    expect([status, err]).toEqual([0, ""]);
    const object = JSON.parse((await alcedo(["compare", DEMONSTRATION, folder, "--json"])).out) as Compared;
    return { out, flat: out.replaceAll(/\s+/g, " "), object };
  });
}

describe("alcedo compare", () => {
  test("says that there is no difference between a campaign and its copy", async () => {
    const { status, out } = await alcedo(["compare", DEMONSTRATION, DEMONSTRATION]);
    expect(status).toBe(0);
    expect(out).toContain("No difference: the two campaigns hold the same.");
    expect(out).toContain("INVENTED DATA");
  });

  test("tells a difference that no result depends on from none", async () => {
    const { out, object } = await compared("datapackage.json", (text) =>
      text.replace("Cones and small fields", "Cones"),
    );
    expect(out).toContain("No difference in any result.");
    expect(object.before.input).not.toBe(object.after.input);
    expect(object.quantities).toEqual([]);
  });

  test("attributes the whole change of every output factor to the one reading that was altered", async () => {
    const { flat, object } = await compared("output-factors.csv", (text) =>
      text.replace(/^(r052,.*),4\.0092,/m, "$1,4.0192,"),
    );
    const factors = object.quantities.filter(({ id, change }) => id.startsWith("output-factor.") && change !== 0);
    expect(factors.map(({ id }) => id)).toEqual(["output-factor.cone-5"]);
    for (const { change, remainder, attributions } of object.quantities.filter((quantity) => quantity.change !== 0)) {
      expect(attributions.map(({ input }) => input)).toEqual(["output-factors/r052"]);
      expect(Math.abs(remainder)).toBeLessThan(1e-4 * Math.abs(change));
      expect(attributions[0]!.values).toEqual([{ column: "signal_blue", before: 4.0092, after: 4.0192 }]);
    }
    expect(flat).toContain("output-factors/r052 (signal_blue 4.0092 → 4.0192), alone: ");
    expect(flat).toMatch(/alone: [^:]*output-factor\.cone-5/);
  });

  test("gives values before and after, the change in per cent and in units of u", async () => {
    const { out } = await compared("output-factors.csv", (text) => text.replace(/^(r052,.*),4\.0092,/m, "$1,4.0892,"));
    expect(out).toMatch(/^output-factor\.cone-5 +0\.4954\(29\) +0\.4981\(\d\d\) +\+0\.53 % +\+0\.\d\d$/m);
    expect(out).toContain("Findings of B that A does not have");
    expect(out).toContain("[scatter-uneven]");
  });

  test("carries a reading of the separation into every output factor", async () => {
    const { out, object } = await compared("separation.csv", (text) => text.replace("27.2473", "27.2573"));
    const factors = object.quantities.filter(({ id, change }) => id.startsWith("output-factor.") && change !== 0);
    expect(factors).toHaveLength(9);
    for (const { change, remainder, attributions } of factors) {
      expect(attributions[0]!.input).toBe("separation/s006");
      expect(attributions[0]!.change + remainder).toBeCloseTo(change, 12);
      expect(Math.abs(remainder)).toBeLessThan(1e-3 * Math.abs(change));
    }
    expect(out).toContain("separation/s006 (signal_blue 27.2473 → 27.2573), alone:");
    // numbers that are zero within their uncertainty have no percentage
    expect(out).toMatch(/^separation\.verify\.half .* — +[−+]/m);
  });

  test("says of a reading that was left out, and of one that is gone, that it was", async () => {
    const excluded = await compared("output-factors.csv", (text) =>
      text.replace(/^(r052,.*),,$/m, "$1,cable touched,"),
    );
    expect(excluded.flat).toContain("output-factors/r052 (left out)");
    const gone = await compared("output-factors.csv", (text) => text.replace(/^r052,.*\n/m, ""));
    expect(gone.flat).toContain("output-factors/r052 (reading not there any more)");
  });

  test("shows a change of an assumption that moves the values, and one that moves the uncertainties alone", async () => {
    const moved = await compared("datapackage.json", (text) =>
      text.replace('"outputCorrection": { "value": 1,', '"outputCorrection": { "value": 1.002,'),
    );
    expect(moved.flat).toContain("output-correction (1 → 1.002), alone: output-factor: 60x60, 30x30");
    const widened = await compared("datapackage.json", (text) => text.replace('"u": 0.005', '"u": 0.01'));
    expect(widened.out).toContain("Uncertainties that changed alone");
    expect(widened.out).toMatch(/^output-factor\.60x60 .*\+(99|100) %$/m);
    for (const { change, uBefore, uAfter } of widened.object.quantities) {
      expect(change).toBe(0);
      expect(uAfter).toBeGreaterThan(uBefore);
    }
  });

  test("names standings that changed, quantities of one side and findings of one side", async () => {
    const { out, object } = await compared("separation.csv", (text) => text.replaceAll(/^.*,verify,.*\n/gm, ""));
    expect(out).toContain("separation: ● sound → ○ untested");
    expect(object.standings.map(({ id }) => id)).toEqual(["campaign", "separation", "calibration", "output-factors"]);
    expect(object.onlyBefore).toContain("separation.verify.half");
    expect(object.onlyAfter).toEqual([]);
    expect(out).toContain("Only in A");
    expect(object.appeared.map(({ code }) => code)).toContain("separation-untested");
    expect(object.disappeared).toEqual([]);
  });

  test("adds up many causes of one change, the remainder last", async () => {
    const { flat, object } = await compared("output-factors.csv", (text) =>
      text.replaceAll(
        /^(r05[2-6],.*),(4\.0\d+),/gm,
        (_, head: string, blue: string) => `${head},${(Number(blue) + 0.004).toFixed(4)},`,
      ),
    );
    const factor = object.quantities.find(({ id }) => id === "output-factor.cone-5")!;
    expect(factor.attributions).toHaveLength(5);
    const sum = factor.attributions.reduce((total, { change }) => total + change, 0);
    expect(sum + factor.remainder).toBeCloseTo(factor.change, 12);
    expect(flat).toMatch(
      /output-factor\.cone-5 \+[\d.×⁻⁰-⁹]+ output-factors\/r05\d.*; 1 other inputs? \+.*; remainder < 0\.1 %/,
    );
  });

  test.each([80, 120])("keeps to %d columns", async (columns) => {
    expect(
      widest((await compared("separation.csv", (text) => text.replace("27.2473", "27.4473"), columns)).out),
    ).toBeLessThanOrEqual(columns);
  });

  test("refuses where one side cannot be evaluated, and says which and why", async () =>
    inCopyOfDemonstration(async (folder) => {
      rmSync(join(folder, "calibration.csv"));
      for (const [a, b] of [
        [DEMONSTRATION, folder],
        [folder, DEMONSTRATION],
      ] as const) {
        const { status, out, err } = await alcedo(["compare", a, b]);
        expect([status, out]).toEqual([2, ""]);
        expect(err).toContain("[file-absent]");
        const object = JSON.parse((await alcedo(["compare", a, b, "--json"])).out) as { before: object; after: object };
        expect(a === folder ? object.before : object.after).toMatchObject({ standing: "broken" });
      }
    }));

  test("compares the campaigns, not where they lie", async () =>
    inCopyOfDemonstration(async (folder) => {
      cpSync(folder, `${folder}-2`, { recursive: true });
      expect((await alcedo(["compare", folder, `${folder}-2`])).out).toContain(
        "No difference: the two campaigns hold the same.",
      );
    }));
});
