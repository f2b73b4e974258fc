import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import type { Agreement } from "./agreement.ts";
import { alcedo, widest } from "./testing/console.ts";
import { EXACT, exactFolder } from "./testing/exact-set.ts";
import { DEMONSTRATION, inScratch } from "./testing/scratch.ts";

type Rechecked = Agreement & { readonly agrees: boolean; readonly standing: string };

/** Simulates a campaign with a mistake and rechecks it. */
async function recheckedWith(mistake: string) {
  return inScratch(async (folder) => {
    expect((await alcedo(["simulate", folder, "--mistake", mistake])).status).toBe(0);
    const text = await alcedo(["recheck", folder], { columns: 120 });
    const object = await alcedo(["recheck", folder, "--json"]);
    expect(object.status).toBe(text.status);
    return { ...text, flat: text.out.replaceAll(/\s+/g, " "), json: JSON.parse(object.out) as Rechecked };
  });
}

describe("alcedo recheck", () => {
  test("finds both routes agreeing on every quantity of the demonstration, and names those without a second route", async () => {
    const { status, out, err } = await alcedo(["recheck", DEMONSTRATION], { columns: 120 });
    expect([status, err]).toEqual([0, ""]);
    for (const id of ["separation.stem-ratio", "calibration.coefficient", "output-factor.cone-5", "positioning.cone-5"])
      expect(out).toMatch(new RegExp(`^● +${id.replaceAll(".", "\\.")} .*\\d`, "m"));
    expect(out).not.toContain("✕");
    expect(out.replaceAll(/\s+/g, " ")).toMatch(
      /— \d+ without a second route: separation\.residual-slope, .*● All \d+ that both routes have agree\. Largest difference: [\d.×⁰¹²³⁴⁵⁶⁷⁸⁹⁻10]+ u in [\w.-]+; of the uncertainties 0\.\d+ % in [\w.-]+\./,
    );
    expect(out).toContain("INVENTED DATA");
  });

  test("arrives at the stem ratio and the output factor of the exact set by both routes", async () =>
    inScratch(async (folder) => {
      await exactFolder(folder, EXACT);
      const { status, out } = await alcedo(["recheck", folder, "--json"]);
      const { compared, agrees } = JSON.parse(out) as Rechecked;
      const both = (id: string) => compared.find((one) => one.id === id)!;
      expect([status, agrees]).toEqual([0, true]);
      for (const [id, value, places] of [
        ["separation.stem-ratio", 0.75, 12],
        ["calibration.coefficient", 1 / 3.875, 12],
        // volume averaging in 15 mm, blurred by up to 2 mm: some 1e-5
        ["output-factor.small", 0.6, 4],
      ] as const) {
        expect(both(id).value).toBeCloseTo(value, places);
        expect(both(id).recheckValue).toBeCloseTo(value, places);
      }
    }));

  test("ends with 1 and names the quantity where the routes disagree: one beyond the reach of first-order propagation", async () => {
    const { status, flat, json } = await recheckedWith("unit-slipped");
    expect([status, json.agrees]).toEqual([1, false]);
    expect(json.standing).not.toBe("broken");
    expect(json.compared.filter(({ uAgrees }) => !uAgrees).map(({ id }) => id)).toEqual([
      "stem-load.output-factors.30x30",
    ]);
    expect(flat).toContain("✕ stem-load.output-factors.30x30 ");
    expect(flat).toMatch(/✕ 1 of \d+ disagree: stem-load\.output-factors\.30x30 \(u\)\. Largest difference:/);
  });

  test("ends with 1 where a standing is broken, though the routes agree", async () => {
    const { status, flat, json } = await recheckedWith("first-channel-saturated");
    expect([status, json.agrees, json.standing]).toEqual([1, true, "broken"]);
    expect(flat).toContain("✕ The campaign's standing is broken; alcedo evaluate says why. ● All ");
  });

  test.each(["sign-flipped", "temperature-in-fahrenheit"])("ends with 2 and the findings after %s", async (mistake) => {
    const { status, out, err, json } = await recheckedWith(mistake);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toContain("cannot be evaluated: ");
    expect(json).toHaveProperty("findings");
    expect(json).not.toHaveProperty("agrees");
  });

  test("ends with 2 where there is no campaign", async () =>
    inScratch(async (folder) => {
      writeFileSync(join(folder, "datapackage.json"), "{");
      expect(await alcedo(["recheck", folder])).toMatchObject({ status: 2, out: "" });
      expect(await alcedo(["recheck", join(folder, "nowhere")])).toMatchObject({ status: 2, out: "" });
    }));

  test("says on a narrow terminal for which columns there is no room", async () => {
    const { out } = await alcedo(["recheck", DEMONSTRATION], { columns: 90 });
    expect(widest(out)).toBeLessThanOrEqual(90);
    expect(out).toMatch(/^No room for: (u, )?rechecked u\.$/m);
  });
});
