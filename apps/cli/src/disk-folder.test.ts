import { chmodSync, mkdirSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { diskFolder, FolderError } from "./disk-folder.ts";
import { inScratch, makePipe } from "./testing/scratch.ts";

const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
const isRoot = process.getuid?.() === 0;

describe("a folder on disk", () => {
  test("lists its files by relative paths, sorted, those in folders too", async () =>
    inScratch((folder) => {
      mkdirSync(join(folder, "tables"));
      writeFileSync(join(folder, "tables/b.csv"), "x");
      writeFileSync(join(folder, "a ü.csv"), "yy");
      const source = diskFolder(folder);
      expect(source.list()).toEqual(["a ü.csv", "tables/b.csv"]);
      expect(source.size("a ü.csv")).toBe(2);
      expect(source.size("absent.csv")).toBeUndefined();
      expect(source.size("a ü.csv/below")).toBeUndefined();
      expect(text(source.read("tables/b.csv"))).toBe("x");
      expect(() => source.read("absent.csv")).toThrow("there is no such file");
      expect(() => source.size("tables")).toThrow("it is a folder");
    }));

  test("may be reached through a link, and may hold links to its own files", async () =>
    inScratch((folder) => {
      mkdirSync(join(folder, "real"));
      writeFileSync(join(folder, "real/a.csv"), "x");
      symlinkSync("real", join(folder, "link"));
      symlinkSync("a.csv", join(folder, "real/b.csv"));
      const source = diskFolder(join(folder, "link"));
      expect(source.list()).toEqual(["a.csv", "b.csv"]);
      expect(text(source.read("b.csv"))).toBe("x");
    }));

  test("lets nothing lead out of it: neither links to files, nor links to folders, nor paths", async () =>
    inScratch((folder) => {
      mkdirSync(join(folder, "own"));
      mkdirSync(join(folder, "own-sibling"));
      writeFileSync(join(folder, "secret.csv"), "secret");
      writeFileSync(join(folder, "own-sibling/secret.csv"), "secret");
      symlinkSync("../secret.csv", join(folder, "own/link.csv"));
      symlinkSync("../own-sibling", join(folder, "own/folder"));
      symlinkSync("/etc/passwd", join(folder, "own/passwd.csv"));
      const source = diskFolder(join(folder, "own"));
      for (const path of ["link.csv", "folder/secret.csv", "passwd.csv", "../secret.csv", "..", "/etc/passwd"]) {
        expect(() => source.size(path), path).toThrow("it leads out of the folder");
        expect(() => source.read(path), path).toThrow("it leads out of the folder");
      }
    }));

  test("tells links to nothing and links in a circle apart from absent files", async () =>
    inScratch((folder) => {
      symlinkSync("nowhere.csv", join(folder, "dangling.csv"));
      symlinkSync("b.csv", join(folder, "a.csv"));
      symlinkSync("a.csv", join(folder, "b.csv"));
      const source = diskFolder(folder);
      expect(() => source.size("dangling.csv")).toThrow("it is a link to nothing");
      expect(() => source.read("a.csv")).toThrow("its links go round in a circle");
    }));

  test("waits for no pipe and opens no device", async () =>
    inScratch((folder) => {
      makePipe(join(folder, "pipe.csv"));
      const source = diskFolder(folder);
      for (const attempt of [() => source.size("pipe.csv"), () => source.read("pipe.csv")])
        expect(attempt).toThrow("it is no plain file but a device, pipe or socket");
    }));

  test("knows the size of a file without reading it", async () =>
    inScratch((folder) => {
      writeFileSync(join(folder, "huge.csv"), "");
      truncateSync(join(folder, "huge.csv"), 2 ** 40);
      expect(diskFolder(folder).size("huge.csv")).toBe(2 ** 40);
    }));

  test("is refused with a remedy where it is no folder or is not there", async () =>
    inScratch((folder) => {
      writeFileSync(join(folder, "file.csv"), "x");
      const refusal = (path: string) => {
        try {
          diskFolder(path);
        } catch (error) {
          if (error instanceof FolderError) return [error.message, error.remedy];
          throw error;
        }
        return undefined;
      };
      expect(refusal(join(folder, "file.csv"))).toEqual([
        `${folder}/file.csv: this is no folder.`,
        "Name the folder that holds it.",
      ]);
      for (const absent of ["absent", "file.csv/below"])
        expect(refusal(join(folder, absent))?.[0]).toBe(`${folder}/${absent}: there is no such folder.`);
      expect(refusal("")?.[0]).toBe("The folder's name is empty.");
    }));

  test("is not searched without end: too many files beside a campaign are refused, and without one cut short", async () =>
    inScratch((folder) => {
      mkdirSync(join(folder, "many"));
      for (let i = 0; i <= 20; i++) writeFileSync(join(folder, `many/${i}`), "");
      mkdirSync(join(folder, "many/deeper"));
      writeFileSync(join(folder, "many/deeper/x.csv"), "");
      expect(diskFolder(folder, 20).list()).not.toContain("many/deeper/x.csv");
      writeFileSync(join(folder, "datapackage.json"), "{}");
      expect(() => diskFolder(folder, 20)).toThrow("more than 20 files lie under it");
      expect(diskFolder(folder).list()).toHaveLength(23);
    }));

  test("passes hidden folders over, and reads what lies in them where it is named", async () =>
    inScratch((folder) => {
      mkdirSync(join(folder, ".git"));
      writeFileSync(join(folder, ".git/a.csv"), "x");
      const source = diskFolder(folder);
      expect(source.list()).toEqual([]);
      expect(text(source.read(".git/a.csv"))).toBe("x");
    }));

  // Root reads everything; the words for a refusal are tested in system-error.test.ts.
  test("says so where permission is denied", async ({ skip }) => {
    if (isRoot) skip("root may read everything");
    await inScratch((folder) => {
      writeFileSync(join(folder, "locked.csv"), "x");
      chmodSync(join(folder, "locked.csv"), 0);
      expect(() => diskFolder(folder).read("locked.csv")).toThrow("permission is denied");
    });
  });
});
