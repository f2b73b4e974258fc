import { strToU8, type Zippable, zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { readFolder } from "../read-folder.ts";
import { patchedEntry } from "../testing/patched-entry.ts";
import { SAMPLE_FILES, sampleFolder } from "../testing/sample-folder.ts";
import { readZippedFolder } from "./read-zipped-folder.ts";

const SOUND: Zippable = Object.fromEntries(Object.entries(SAMPLE_FILES).map(([path, text]) => [path, strToU8(text)]));
const CSV = strToU8("reading\n");
const under = (top: string) => Object.fromEntries(Object.entries(SOUND).map(([path, text]) => [top + path, text]));
const read = (files: Zippable) => readZippedFolder(zipSync(files), "invented.zip");
const codes = (files: Zippable) => read(files).findings.map(({ code }) => code);
const { campaign } = readFolder(sampleFolder());

test("a zipped folder is read as the folder is", () => {
  expect(read(SOUND)).toEqual({ campaign, findings: [] });
  expect(campaign).toBeDefined();
});

test("a folder that was zipped with its name is the same campaign, whatever a system has put beside it", () => {
  const folders = { "invented/": new Uint8Array(), "invented/data/": new Uint8Array() };
  const system = {
    "__MACOSX/separation.csv": strToU8("x"),
    "__MACOSX/invented/._separation.csv": strToU8("x"),
    "invented/.DS_Store": strToU8("x"),
  };
  expect(read({ ...folders, ...under("invented/"), ...system })).toEqual({ campaign, findings: [] });
});

test("two folders, or a folder deeper down, are not guessed at", () => {
  expect(codes({ ...under("a/"), ...under("b/") })).toEqual(["descriptor-absent"]);
  expect(codes(under("a/b/"))).toEqual(["descriptor-absent"]);
});

describe("a path that means another place than one in the folder is refused, and named:", () => {
  test.each([
    ["../up.csv", "leads out of the folder"],
    ["data/../../up.csv", "leads out of the folder"],
    ["/etc/passwd", "is absolute"],
    ["C:/up.csv", "names a drive"],
    ["c:up.csv", "names a drive"],
    ["data\\up.csv", "has backslashes"],
    ["..\\up.csv", "has backslashes"],
    ["\\\\server\\share", "has backslashes"],
    ["~/.profile", "starts in a home folder"],
    ["./up.csv", "single points"],
    ["data//up.csv", "empty parts"],
    ["up.csv\u0000.txt", "file names cannot have everywhere"],
    ["../", "leads out of the folder"],
  ])("%j", (path, fault) => {
    const { campaign: none, findings } = read({ ...SOUND, [path]: CSV });
    expect(none).toBeUndefined();
    expect(findings).toMatchObject([{ code: "zip-path", where: { file: path } }]);
    expect(findings[0]!.message).toContain(fault);
  });
});

test("a link is refused even where a resource names it", () => {
  const linked: Zippable = { ...SOUND, "separation.csv": [strToU8("/etc/passwd"), { os: 3, attrs: 0o120777 << 16 }] };
  expect(read(linked).findings).toMatchObject([{ code: "zip-link", where: { file: "separation.csv" } }]);
});

test("one name twice is refused, for a reader could take either", () => {
  const bytes = zipSync({ ...SOUND, "separatiom.csv": CSV });
  const twice = bytes.map((byte, i) => (byte === 0x6d && bytes[i - 1] === 0x6f && bytes[i + 1] === 0x2e ? 0x6e : byte));
  const { findings } = readZippedFolder(twice, "invented.zip");
  expect(findings).toMatchObject([
    { code: "zip-twice", message: "invented.zip: it has the part separation.csv twice." },
  ]);
});

test("more files than a campaign has, and bytes that are no zip file, are refused", () => {
  const many = Object.fromEntries(Array.from({ length: 1001 }, (_, i) => [`${i}.txt`, CSV]));
  expect(codes({ ...SOUND, ...many })).toEqual(["zip-too-large"]);
  for (const bytes of [new Uint8Array(), strToU8("PK\u0003\u0004 and nothing more"), new Uint8Array(65 * 1024 * 1024)])
    expect(readZippedFolder(bytes, "x.zip").findings.map(({ code }) => code)).toEqual([
      bytes.length > 1000 ? "zip-too-large" : "zip-unreadable",
    ]);
});

test("a bomb is refused by what its directory says, before anything is unpacked, and by what it is where that lies", () => {
  const bomb = zipSync({ ...SOUND, "a.csv": new Uint8Array(8 * 1024 * 1024) }, { level: 9 });
  expect(bomb.length).toBeLessThan(20_000);
  const says = (size: number) => (view: DataView, at: number) => view.setUint32(at, size, true);
  const honest = readZippedFolder(patchedEntry(bomb, 24, says(300 * 1024 * 1024)), "bomb.zip");
  expect(honest.findings[0]!.message).toContain("unpacked it has 309 MiB; at most 256 MiB are read");
  const first = zipSync({ "a.csv": new Uint8Array(8 * 1024 * 1024), ...SOUND }, { level: 9 });
  const lying = readZippedFolder(patchedEntry(first, 24, says(10)), "bomb.zip");
  expect(lying.findings[0]).toMatchObject({
    code: "zip-unreadable",
    message: expect.stringContaining("a.csv") as unknown,
  });
});
