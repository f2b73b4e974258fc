import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Result } from "@alcedo-dosimetry/campaign";
import { readWorkbook } from "@alcedo-dosimetry/tabular/workbook";
import { describe, expect, test } from "vitest";
import { alcedo } from "./testing/console.ts";
import { DEMONSTRATION, inCopyOfDemonstration, inScratch } from "./testing/scratch.ts";

const inputOf = async (campaign: string) =>
  (JSON.parse((await alcedo(["evaluate", campaign, "--json"])).out) as Result).input;
const flat = (text: string) => text.replace(/\s+/g, " ");

describe("alcedo export", () => {
  test("writes results as a workbook and as tables, says what, and ends like evaluate", async () =>
    inScratch(async (scratch) => {
      const [file, folder] = [join(scratch, "deep/results.xlsx"), join(scratch, "tables")];
      const { status, out, err } = await alcedo(["export", DEMONSTRATION, "--xlsx", file, "--tables", folder]);
      expect([status, err]).toEqual([0, ""]);
      expect(flat(out)).toContain("INVENTED DATA");
      const limits = { rows: 10_000, columns: 100, unpacked: 1e8, sheets: 50 };
      const { sheets } = readWorkbook(readFileSync(file), limits);
      expect(sheets.map(({ name }) => name).slice(0, 3)).toEqual(["about", "output factors", "results"]);
      expect(readdirSync(folder)).toContain("datapackage.json");
      expect(out).not.toContain("like a formula");
    }));

  test(
    "writes the campaign as a workbook that every command opens like the folder",
    async () =>
      inScratch(async (scratch) => {
        const file = join(scratch, "campaign.xlsx");
        expect((await alcedo(["export", DEMONSTRATION, "--campaign", file])).status).toBe(0);
        expect(await inputOf(file)).toBe(await inputOf(DEMONSTRATION));
        expect((await alcedo(["compare", DEMONSTRATION, file])).out).toContain("No difference");
        expect((await alcedo(["trace", file, "separation.stem-ratio"])).status).toBe(0);
        expect((await alcedo(["recheck", file])).status).toBe(0);
        expect((await alcedo(["check", file])).out).toContain("sheet separation");
      }),
    120_000,
  );

  test("writes a characterisation that another campaign is evaluated by, and that is stale when it is old", async () =>
    inCopyOfDemonstration(async (folder) => {
      const before = JSON.parse((await alcedo(["evaluate", folder, "--json"])).out) as Result;
      const file = join(folder, "known.json");
      const written = await alcedo(["export", folder, "--characterisation", file]);
      expect([written.status, written.err]).toEqual([0, ""]);
      expect(flat(written.out)).toContain("known.json: the characterisation of 20");
      const path = join(folder, "datapackage.json");
      const descriptor = JSON.parse(readFileSync(path, "utf8")) as { resources: { name: string; alcedo: object }[] };
      descriptor.resources = descriptor.resources.filter(({ name }) => name !== "separation" && name !== "calibration");
      descriptor.resources.push(
        Object.assign({ name: "known", path: "known.json" }, { alcedo: { series: "characterisation" } }),
      );
      writeFileSync(path, JSON.stringify(descriptor));
      const after = JSON.parse((await alcedo(["evaluate", folder, "--json"])).out) as Result;
      const of = ({ quantities }: Result) => quantities.find(({ id }) => id === "output-factor.cone-5")!;
      expect(of(after).value).toBeCloseTo(of(before).value, 12);
      expect(after.stages.find(({ id }) => id === "separation")!.reason).toContain("characterisation of 20");
      const late = JSON.parse((await alcedo(["evaluate", folder, "--json", "--as-of", "2031-01-01"])).out) as Result;
      expect(late.standing).toBe("stale");
      expect((await alcedo(["evaluate", folder, "--as-of", "2031-02-30"])).err).toContain("YYYY-MM-DD");
      const again = await alcedo(["export", folder, "--characterisation", join(folder, "again.json")]);
      expect([again.status, existsSync(join(folder, "again.json"))]).toEqual([2, false]);
      expect(flat(again.err)).toContain("no separation of its own");
    }));

  test("never writes over a file, and then writes nothing at all", async () =>
    inScratch(async (scratch) => {
      const file = join(scratch, "mine.xlsx");
      writeFileSync(file, "mine");
      const tables = join(scratch, "tables");
      const { status, err } = await alcedo(["export", DEMONSTRATION, "--xlsx", file, "--tables", tables]);
      expect(status).toBe(2);
      expect(flat(err)).toContain("mine.xlsx is there already, and nothing is ever written over.");
      expect(readFileSync(file, "utf8")).toBe("mine");
      expect(existsSync(tables)).toBe(false);
    }));

  test("refuses a call that says nothing to write, or a workbook without the ending, or a folder that is not empty", async () =>
    inScratch(async (scratch) => {
      expect(flat((await alcedo(["export", DEMONSTRATION])).err)).toContain(
        "say what to write: --xlsx, --tables, --campaign or --characterisation.",
      );
      const other = await alcedo(["export", DEMONSTRATION, "--xlsx", join(scratch, "a.csv")]);
      expect([other.status, flat(other.err).includes("a workbook's name ends in .xlsx.")]).toEqual([2, true]);
      writeFileSync(join(scratch, "mine"), "");
      const full = await alcedo(["export", DEMONSTRATION, "--tables", scratch]);
      expect([full.status, flat(full.err).includes("is not empty (mine)")]).toEqual([2, true]);
    }));

  test("writes nothing where a campaign cannot be evaluated, and says why", async () =>
    inCopyOfDemonstration(async (folder) => {
      writeFileSync(join(folder, "calibration.csv"), "reading\n");
      const file = join(folder, "../results.xlsx");
      const { status, out, err } = await alcedo(["export", folder, "--xlsx", file]);
      expect([status, out, existsSync(file)]).toEqual([2, "", false]);
      expect(err).toContain("calibration.csv");
    }));

  test("counts texts that a spreadsheet would compute out of CSV, and leaves them as typed", async () =>
    inCopyOfDemonstration(async (folder) => {
      const path = join(folder, "calibration.csv");
      const [header, first, ...rest] = readFileSync(path, "utf8").split("\n");
      writeFileSync(
        path,
        [`${header},remark`, `${first},=1+1`, ...rest.map((row) => (row === "" ? row : `${row},`))].join("\n"),
      );
      const { out } = await alcedo(["export", folder, "--tables", join(folder, "../tables")]);
      expect(flat(out)).toContain("▲ 1 text begins like a formula and is written as typed");
      expect(readFileSync(join(folder, "../tables/readings-calibration.csv"), "utf8")).toContain(",=1+1\n");
    }));
});

describe("a workbook in the folder's place", () => {
  test("comes from alcedo new, evaluates at once, and is the same campaign as the folder's", async () =>
    inScratch(async (scratch) => {
      const [file, folder] = [join(scratch, "fields.xlsx"), join(scratch, "fields")];
      const { status, out, err } = await alcedo(["new", file]);
      expect([status, err]).toEqual([0, ""]);
      expect(out).toContain(`alcedo evaluate ${file}`);
      expect((await alcedo(["new", folder])).status).toBe(0);
      expect(await inputOf(file)).toBe(await inputOf(folder));
      expect((await alcedo(["evaluate", file])).out).toContain("INVENTED DATA");
      const again = join(scratch, "more/fields.xlsx");
      expect((await alcedo(["new", join(scratch, "more/fields"), "--xlsx"])).status).toBe(0);
      expect(readFileSync(again)).toEqual(readFileSync(file));
    }));

  test.each([
    [["--empty"], 2],
    [["--no-background"], 0],
    [["--empty", "--channels", "blue,green,red"], 2],
  ])("is the folder's with %j as well, and is never written over", async (words, expected) =>
    inScratch(async (scratch) => {
      const [file, folder] = [join(scratch, "fields.xlsx"), join(scratch, "fields")];
      await alcedo(["new", file, ...words]);
      await alcedo(["new", folder, ...words]);
      const [a, b] = [await alcedo(["evaluate", file, "--json"]), await alcedo(["evaluate", folder, "--json"])];
      expect([a.status, b.status]).toEqual([expected, expected]);
      expect((JSON.parse(a.out) as Result).input).toBe((JSON.parse(b.out) as Result).input);
      const again = await alcedo(["new", file, ...words]);
      expect([again.status, flat(again.err).includes("is there already")]).toEqual([2, true]);
    }),
  );

  test("that is none is refused with what to do", async () =>
    inScratch(async (scratch) => {
      const said = async (name: string) => {
        const { status, out } = await alcedo(["check", join(scratch, name)], { columns: 120 });
        expect(status).toBe(2);
        return flat(out);
      };
      writeFileSync(join(scratch, "text.xlsx"), "reading,condition");
      mkdirSync(join(scratch, "folder.xlsx"));
      expect(await said("text.xlsx")).toContain(
        "text.xlsx: it is no workbook. [workbook-unreadable] Remedy: Open it in a spreadsheet program and save it as .xlsx.",
      );
      await alcedo(["new", join(scratch, "fields.xlsx"), "--empty"]);
      const empty = await said("fields.xlsx");
      expect(empty).toContain(
        "sheet separation: 1 error ✕ error sheet separation: the table has a header but no readings. [table-empty]",
      );
      expect(empty).not.toContain(".csv");
      expect(await said("gone.xlsx")).toContain("the workbook cannot be read: there is no such file.");
      expect(await said("folder.xlsx")).toContain("the folder is empty");
    }));
});
