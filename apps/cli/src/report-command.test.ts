import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alcedo } from "./testing/console.ts";
import { DEMONSTRATION, inCopyOfDemonstration, inScratch } from "./testing/scratch.ts";

const kindOf = (path: string) => readFileSync(path).subarray(0, 5).toString("latin1");

describe("alcedo report", () => {
  test("writes the full record as PDF and HTML beside the campaign folder, and says where", async () => {
    await inCopyOfDemonstration(async (folder) => {
      const { status, out, err } = await alcedo(["report", folder]);
      expect({ status, err }).toEqual({ status: 0, err: "" });
      expect(kindOf(`${folder}-record.pdf`)).toBe("%PDF-");
      expect(readFileSync(`${folder}-record.html`, "utf8")).toContain("Full record");
      expect(out.replace(/\s/g, "")).toContain(`${folder}-record.pdf`.replace(/\s/g, ""));
      expect(out).toContain("sha256:");
      expect(out).toContain("invented data");
    });
  });

  test("writes one kind as the file that is named, with its date", async () => {
    await inScratch(async (folder) => {
      const file = join(folder, "certificate.html");
      const words = ["report", DEMONSTRATION, "--kind", "certificate", "--out", file, "--date", "2026-03-12"];
      expect((await alcedo(words)).status).toBe(0);
      expect(readFileSync(file, "utf8")).toMatch(/Certificate of characterisation[\s\S]*2026-03-12/);
      expect(existsSync(join(folder, "certificate.pdf"))).toBe(false);
    });
  });

  test("writes both where the file has no ending", async () => {
    await inScratch(async (folder) => {
      const file = join(folder, "factors");
      expect((await alcedo(["report", DEMONSTRATION, "--kind", "output-factors", "--out", file])).status).toBe(0);
      expect(kindOf(`${file}.pdf`)).toBe("%PDF-");
      expect(existsSync(`${file}.html`)).toBe(true);
    });
  });

  test("writes nothing over what is there, unless it is told to", async () => {
    await inScratch(async (folder) => {
      const file = join(folder, "mine.html");
      writeFileSync(file, "mine");
      const words = ["report", DEMONSTRATION, "--kind", "certificate", "--out", file];
      const { status, err } = await alcedo(words);
      expect(status).toBe(2);
      expect(err.replace(/\s+/g, " ")).toContain("is there already. Name another file with --out, or say --force");
      expect(readFileSync(file, "utf8")).toBe("mine");
      expect((await alcedo([...words, "--force"])).status).toBe(0);
      expect(readFileSync(file, "utf8")).toContain("<!doctype html>");
    });
  });

  test("writes neither of two files where one of them is there", async () => {
    await inScratch(async (folder) => {
      const file = join(folder, "both");
      writeFileSync(`${file}.html`, "mine");
      expect((await alcedo(["report", DEMONSTRATION, "--kind", "certificate", "--out", file])).status).toBe(2);
      expect(existsSync(`${file}.pdf`)).toBe(false);
    });
  });

  test("refuses an ending that it does not write, a folder in the file's place, and a folder that is not there", async () => {
    await inScratch(async (folder) => {
      const refusal = async (file: string, ...more: string[]) => {
        const { status, err } = await alcedo([
          "report",
          DEMONSTRATION,
          "--kind",
          "certificate",
          "--out",
          file,
          ...more,
        ]);
        expect(status).toBe(2);
        return err.replace(/\s+/g, " ");
      };
      expect(await refusal(join(folder, "report.docx"))).toContain("Name a file that ends in .pdf or .html");
      mkdirSync(join(folder, "folder.pdf"));
      expect(await refusal(join(folder, "folder.pdf"), "--force")).toContain("is no plain file");
      expect(await refusal(join(folder, "nowhere", "report.pdf"))).toContain("cannot be written: it is not there");
    });
  });

  test("says why a campaign cannot be evaluated, and writes nothing", async () => {
    await inCopyOfDemonstration(async (folder) => {
      writeFileSync(join(folder, "separation.csv"), "reading,condition\n1,short\n");
      const { status, err } = await alcedo(["report", folder]);
      expect(status).toBe(2);
      expect(err).toContain("cannot be evaluated");
      expect(existsSync(`${folder}-record.pdf`)).toBe(false);
    });
  });

  test("writes the record of a broken campaign, and ends with 1", async () => {
    await inCopyOfDemonstration(async (folder) => {
      const path = join(folder, "separation.csv");
      const spoilt = readFileSync(path, "utf8").replace(
        /^(s\d+,half,(?:[^,]*,){5})([\d.]+)/gm,
        (_, before: string, signal: string) => `${before}${(1.02 * Number(signal)).toFixed(4)}`,
      );
      writeFileSync(path, spoilt);
      const file = join(folder, "..", "broken.html");
      const { status, out } = await alcedo(["report", folder, "--out", file]);
      expect(status).toBe(1);
      expect(out).toContain("✕ broken");
      expect(readFileSync(file, "utf8")).toContain("✕ broken");
    });
  });

  test.each([
    ["--kind", "letter", "There are record, output-factors, certificate."],
    ["--date", "2026-02-29", "Write a day of the calendar as YYYY-MM-DD"],
    ["--date", "12.3.2026", "Write a day of the calendar as YYYY-MM-DD"],
  ])("refuses %s %s", async (option, value, message) => {
    const { status, err } = await alcedo(["report", DEMONSTRATION, option, value]);
    expect(status).toBe(2);
    expect(err.replace(/\s+/g, " ")).toContain(message);
  });
});
