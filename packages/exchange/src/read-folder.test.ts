import { digest, type Finding, interpret } from "@alcedo-dosimetry/campaign";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { memoryFolder } from "./folder-source.ts";
import { readFolder } from "./read-folder.ts";
import { changedDescriptor, SAMPLE_FILES, sampleFolder } from "./testing/sample-folder.ts";

type Changes = Parameters<typeof sampleFolder>[0];

const read = (changes: Changes = {}) => readFolder(sampleFolder(changes));
const brief = (findings: readonly Finding[]) =>
  findings.map(({ code, where }) => [code, where?.file, where?.row, where?.column]);
const CALIBRATION = SAMPLE_FILES["data/calibration.csv"]!;

test("a sound folder gives its campaign, cells as typed", () => {
  const { campaign, findings } = read();
  expect(findings).toEqual([]);
  expect(campaign?.descriptor.name).toBe("invented-cones");
  expect(campaign?.tables["separation"]).toEqual({
    path: "separation.csv",
    decimal: ".",
    columns: ["reading", "condition", "signal_blue", "signal_green", "dose_group", "role", "note"],
    rows: [
      ["s1", "min", "6.50", "3.500", "a", "fit", ""],
      ["s2", "max", "17.000", "17.500", "a", "fit", "second loop, re-routed"],
      ["s3", "mid", "11.000", "9.500", "a", "verify", ""],
    ],
    lines: [2, 3, 4],
  });
  expect(interpret(campaign!).findings).toEqual([]);
});

describe("however the same readings are written, the digest is the same:", () => {
  const original = digest(read().campaign!);
  const rewritten = (change: (text: string) => string): Changes => ({
    "separation.csv": change(SAMPLE_FILES["separation.csv"]!),
    "data/calibration.csv": change(CALIBRATION),
  });
  const eachCell = (change: (cell: string) => string, delimiter: string) =>
    rewritten((text) =>
      text.replace(/.+/g, (line) =>
        line
          .split(/,(?! )/)
          .map(change)
          .join(delimiter),
      ),
    );
  const cells = (delimiter: string, comma: boolean) =>
    eachCell((cell) => (comma ? cell.replace(/^(\d+)\.(\d+)$/, "$1,$2") : cell), delimiter);
  const quoted = eachCell((cell) => (cell.startsWith('"') ? cell : `"${cell}"`), ",");

  test.each<[string, Changes]>([
    ["with a byte-order mark", rewritten((text) => `\ufeff${text}`)],
    ["with CRLF", rewritten((text) => text.replaceAll("\n", "\r\n"))],
    ["with CR", rewritten((text) => text.replaceAll("\n", "\r"))],
    ["without a line break at the end", rewritten((text) => text.trimEnd())],
    ["with semicolons", cells(";", false)],
    ["with semicolons and decimal commas", cells(";", true)],
    ["with tabs and decimal commas", cells("\t", true)],
    ["with every cell in quotes", quoted],
    ["with empty delimiters at the end", rewritten((text) => text.replaceAll("\n", ",,\n"))],
    ["with a blank line", rewritten((text) => text.replace("\n", "\n\n"))],
    [
      "the descriptor with a mark, CRLF and other blanks",
      {
        "datapackage.json": `\ufeff${JSON.stringify(JSON.parse(SAMPLE_FILES["datapackage.json"]!), undefined, 7).replaceAll("\n", "\r\n")}`,
      },
    ],
  ])("%s", (_, changes) => {
    const { campaign, findings } = read(changes);
    expect(findings.filter(({ level }) => level === "error")).toEqual([]);
    expect(digest(campaign!)).toBe(original);
  });

  test("but not with other digits", () => {
    expect(digest(read({ "data/calibration.csv": CALIBRATION.replace("6.500", "6.50") }).campaign!)).not.toBe(original);
  });
});

test("faults in the descriptor, in files and in cells come in one go", () => {
  const { campaign, findings } = read({
    "datapackage.json": changedDescriptor((json) => {
      Object.assign(json.alcedo.beam, { depht_mm: 100 });
      json.resources.push({
        name: "background",
        path: "background.csv",
        alcedo: { series: "background" },
      });
      json.resources.push({
        name: "fields",
        path: "fields.csv",
        alcedo: { series: "output-factors" },
      });
    }),
    "separation.csv": SAMPLE_FILES["separation.csv"]!.replace("17.000", "17.OOO").replace("s3,", "s1,"),
    "fields.csv": "reading,condition\na,b,c",
  });
  expect(campaign).toBeUndefined();
  expect(brief(findings)).toEqual([
    ["key-unknown", "datapackage.json", undefined, undefined],
    ["file-absent", "background.csv", undefined, undefined],
    ["row-ragged", "fields.csv", 1, undefined],
    ["number-malformed", "separation.csv", 2, "signal_blue"],
    ["reading-duplicate", "separation.csv", 3, "reading"],
  ]);
});

test("cells at fault alone leave the campaign, for its interpretation to name them", () => {
  const { campaign, findings } = read({ "data/calibration.csv": CALIBRATION.replace("6.500", "6.5 nC") });
  expect(findings).toEqual([]);
  expect(brief(interpret(campaign!).findings)).toEqual([
    ["number-malformed", "data/calibration.csv", 1, "signal_blue"],
  ]);
});

describe("bad input gets a clear message and no campaign:", () => {
  const refused = (changes: Changes) => {
    const { campaign, findings } = read(changes);
    expect(campaign).toBeUndefined();
    expect(findings.some(({ level }) => level === "error")).toBe(true);
    return findings;
  };

  test("an empty folder", () => {
    const { findings } = readFolder(memoryFolder("nothing", new Map()));
    expect(findings).toMatchObject([{ code: "folder-empty", message: "nothing: the folder is empty." }]);
  });

  test("the folder above the campaign's", () => {
    const files = new Map([["cones/datapackage.json", new Uint8Array()]]);
    const { findings } = readFolder(memoryFolder("above", files));
    expect(findings).toMatchObject([{ code: "descriptor-absent", remedy: "There is one in cones: name that folder." }]);
  });

  test.each([
    "",
    "nonsense",
    "null",
    "[]",
    '"text"',
    "{}",
    '{"alcedo": null, "resources": null}',
    '{"resources": [null, 1]}',
  ])("the descriptor %j", (text) => {
    const findings = refused({ "datapackage.json": text });
    expect(findings[0]?.message).toMatch(/^datapackage\.json/);
  });

  test("a binary descriptor", () => {
    refused({ "datapackage.json": Uint8Array.from([0x7f, 0x45, 0x4c, 0x46, 0, 1, 2]) });
  });

  test("a path that leads out of the folder is not even asked for", () => {
    const folder = sampleFolder({
      "datapackage.json": changedDescriptor(
        (json) => void Object.assign(json.resources[0]!, { path: "../../etc/passwd" }),
      ),
    });
    const asked: string[] = [];
    const { campaign, findings } = readFolder({
      ...folder,
      size: (path) => {
        asked.push(path);
        return folder.size(path);
      },
      read: (path) => {
        asked.push(path);
        return folder.read(path);
      },
    });
    expect(campaign).toBeUndefined();
    expect(findings.map(({ code }) => code)).toEqual(["path-outside", "file-unlisted"]);
    expect(asked.filter((path) => path.includes(".."))).toEqual([]);
  });

  test("a file of a gigabyte is refused unread", () => {
    const folder = sampleFolder();
    const { findings } = readFolder({
      ...folder,
      size: (path) => (path === "separation.csv" ? 1_000_000_000 : folder.size(path)),
      read: (path) => {
        if (path === "separation.csv") throw new Error("it was read");
        return folder.read(path);
      },
    });
    expect(findings.filter(({ level }) => level === "error")).toMatchObject([
      { code: "file-too-large", message: "separation.csv: the file has 954 MiB; at most 64 MiB are read." },
    ]);
  });

  test("a file that turns out larger than it said is refused", () => {
    const folder = sampleFolder();
    const big = new Uint8Array(64 * 1024 * 1024 + 1);
    const { findings } = readFolder({
      ...folder,
      read: (path) => (path === "separation.csv" ? big : folder.read(path)),
    });
    expect(findings.map(({ code }) => code)).toContain("file-too-large");
  });

  test("a million rows are refused quickly", () => {
    const text = `${CALIBRATION.split("\n")[0]}\n${"c,ref,6.500,3.500,1.00,0.7\n".repeat(1_000_000)}`;
    const findings = refused({ "data/calibration.csv": text });
    expect(findings).toMatchObject([
      { code: "table-too-long", message: "data/calibration.csv: the table has more than 100000 rows." },
    ]);
  });

  test.each(["x", ",", ";", '"', "\n", "1,", " ", "a\n", "é"])("four million times %j", (filler) => {
    refused({ "data/calibration.csv": filler.repeat(4_000_000) });
  });

  test.each([
    ["a missing table", { "separation.csv": undefined }, "file-absent"],
    ["an empty file", { "separation.csv": "" }, "table-empty"],
    ["a file of blanks", { "separation.csv": " \n\n" }, "table-empty"],
    [
      "a header alone, with another fault",
      { "separation.csv": SAMPLE_FILES["separation.csv"]!.split("\n")[0]!, "data/calibration.csv": undefined },
      "table-empty",
    ],
    ["a binary table", { "separation.csv": Uint8Array.from([1, 2, 0, 3]) }, "text-binary"],
    ["an image", { "separation.csv": Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a]) }, "text-not-utf8"],
    [
      "ambiguous decimals",
      {
        "data/calibration.csv":
          "reading;condition;signal_blue;signal_green;dose_Gy;dose_u_percent\nc1;ref;6,500;3,500;1;1",
      },
      "decimal-ambiguous",
    ],
  ] as const)("%s", (_, changes, code) => {
    expect(refused(changes).map((finding) => finding.code)).toContain(code);
  });

  test.each([
    ["letters in numbers", "6.5OO", "number-malformed"],
    ["NaN", "NaN", "number-not-finite"],
    ["an infinity", "Infinity", "number-not-finite"],
    ["a number that overflows", "1e400", "number-not-finite"],
    ["a formula", "=6.5", "number-malformed"],
  ])("%s, named by the interpretation", (_, cell, code) => {
    const { campaign } = read({ "data/calibration.csv": CALIBRATION.replace("6.500", cell) });
    expect(interpret(campaign!).findings).toMatchObject([
      { level: "error", code, where: { row: 1, line: 2, column: "signal_blue" } },
    ]);
  });
});

test("cells that look like formulas stay text", () => {
  const note = '=HYPERLINK(""http://x"")';
  const { campaign } = read({
    "separation.csv": SAMPLE_FILES["separation.csv"]!.replace("second loop, re-routed", note),
  });
  expect(campaign?.tables["separation"]?.rows[1]?.[6]).toBe('=HYPERLINK("http://x")');
});

test("a missing file is named with the one that was probably meant", () => {
  const { findings } = read({ "separation.csv": undefined, "Separation.CSV": SAMPLE_FILES["separation.csv"] });
  expect(findings[0]).toMatchObject({
    code: "file-absent",
    message: "separation.csv: there is no such file in invented; there is Separation.CSV.",
  });
});

test("whatever bytes the files hold, reading and interpreting them ends without an exception", () => {
  const junk = fc.oneof(
    fc.uint8Array({ maxLength: 60 }),
    fc.string({ unit: "binary", maxLength: 60 }).map((text) => new TextEncoder().encode(text)),
    fc
      .array(
        fc.constantFrom("reading", "condition", ",", ";", "\t", '"', "\n", "6.5", "1,234", "signal_blue", "", "NaN"),
        { maxLength: 40 },
      )
      .map((parts) => new TextEncoder().encode(parts.join(""))),
  );
  const path = fc.constantFrom("datapackage.json", "separation.csv", "data/calibration.csv");
  fc.assert(
    fc.property(junk, path, (bytes, file) => {
      const { campaign, findings } = read({ [file]: bytes });
      expect(campaign === undefined).toBe(findings.some(({ level }) => level === "error"));
      if (campaign) interpret(campaign);
    }),
    { numRuns: 500 },
  );
});

test("a descriptor with one piece changed never makes the reading fail without a finding", () => {
  const text = SAMPLE_FILES["datapackage.json"]!;
  const pieces = fc.constantFrom(
    "",
    '"',
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    "null",
    "1",
    "..",
    "/",
    "\\",
    "a",
    "é",
    "\u0000",
  );
  fc.assert(
    fc.property(fc.nat(text.length), fc.nat(12), pieces, (at, out, put) => {
      const { campaign, findings } = read({ "datapackage.json": text.slice(0, at) + put + text.slice(at + out) });
      expect(campaign === undefined).toBe(findings.some(({ level }) => level === "error"));
    }),
    { numRuns: 1000 },
  );
});
