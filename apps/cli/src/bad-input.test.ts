import { cpSync, mkdirSync, readFileSync, rmSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alcedo } from "./testing/console.ts";
import { inCopyOfDemonstration, inScratch, makePipe } from "./testing/scratch.ts";

/** What each command says of a folder that it cannot use; every one of them must end with status 2 and no stack trace. */
async function refusals(folder: string): Promise<string> {
  const calls = [
    ["check", folder],
    ["check", folder, "--json"],
    ["evaluate", folder],
    ["evaluate", folder, "--json"],
    ["trace", folder, "separation.stem-ratio"],
    ["compare", folder, folder],
  ];
  const runs = [];
  for (const words of calls) runs.push({ words, ...(await alcedo(words, { columns: 120 })) });
  for (const { words, status, out, err } of runs) {
    expect([words[0], status]).toEqual([words[0], 2]);
    expect(out + err).not.toMatch(/\n\s+at .*:\d+|internal|undefined|\[object|fault of the program/);
    if (words.includes("--json")) {
      const object = JSON.parse(out) as { findings: { level: string; remedy?: string }[]; standing?: string };
      expect(object.findings.some(({ level, remedy }) => level === "error" && remedy !== "")).toBe(true);
      if (words[0] === "evaluate") expect(object).toMatchObject({ standing: "broken", stages: [], quantities: [] });
    } else if (words[0] !== "check") expect(out).toBe("");
  }
  return runs
    .filter(({ words }) => !words.includes("--json") && words[0] === "evaluate")
    .map(({ err }) => err)
    .join("")
    .replaceAll(/\s+/g, " ");
}

const change = (folder: string, file: string, edit: (text: string) => string) => {
  const path = join(folder, file);
  const before = readFileSync(path, "utf8");
  expect(edit(before)).not.toBe(before);
  writeFileSync(path, edit(before));
};

type Spoil = (folder: string) => void;

const SPOILT: readonly (readonly [what: string, code: string, says: string, spoil: Spoil])[] = [
  [
    "an empty folder",
    "folder-empty",
    "the folder is empty. [folder-empty] Remedy: Make a folder to fill in with `alcedo new`.",
    (folder) => {
      rmSync(folder, { recursive: true });
      mkdirSync(folder);
    },
  ],
  [
    "a folder that is not there",
    "folder-unreadable",
    "there is no such folder.",
    (folder) => rmSync(folder, { recursive: true }),
  ],
  [
    "a file in the folder's place",
    "folder-unreadable",
    "this is no folder. [folder-unreadable] Remedy: Name the folder that holds it.",
    (folder) => {
      rmSync(folder, { recursive: true });
      writeFileSync(folder, "x");
    },
  ],
  [
    "the folder above the campaign",
    "descriptor-absent",
    "Remedy: There is one in inner: name that folder.",
    (folder) => {
      cpSync(folder, `${folder}-moved`, { recursive: true });
      rmSync(folder, { recursive: true });
      cpSync(`${folder}-moved`, join(folder, "inner"), { recursive: true });
    },
  ],
  [
    "wrong JSON",
    "json-syntax",
    "datapackage.json",
    (folder) => change(folder, "datapackage.json", (text) => text.slice(0, -20)),
  ],
  [
    "an unknown key",
    "key-unknown",
    "detector",
    (folder) => change(folder, "datapackage.json", (text) => text.replace('"detector"', '"detectr"')),
  ],
  ["a missing table", "file-absent", "calibration.csv", (folder) => rmSync(join(folder, "calibration.csv"))],
  [
    "an empty table",
    "table-empty",
    "separation.csv: the file is empty.",
    (folder) => writeFileSync(join(folder, "separation.csv"), ""),
  ],
  [
    "a table with a header alone",
    "table-empty",
    "separation.csv",
    (folder) => change(folder, "separation.csv", (text) => `${text.split("\n")[0]}\n`),
  ],
  [
    "letters in numbers",
    "number-malformed",
    'separation.csv, row 1 (line 2), column signal_blue: "1O.4426"',
    (folder) => change(folder, "separation.csv", (text) => text.replace("10.4426", "1O.4426")),
  ],
  [
    "decimals that could be thousands",
    "decimal-ambiguous",
    "calibration.csv",
    (folder) =>
      writeFileSync(
        join(folder, "calibration.csv"),
        "reading;condition;duration_s;signal_blue;signal_green;dose_Gy;dose_u_percent\nc1;ref;30;10,441;5,634;1,597;1\nc2;ref;30;10,442;5,622;1,600;1\n",
      ),
  ],
  [
    "decimal points and commas in one table",
    "decimal-mixed",
    "calibration.csv",
    (folder) => change(folder, "calibration.csv", (text) => text.replaceAll(",", ";").replace("10.4615", "10,4615")),
  ],
  [
    "an id that stands twice",
    "reading-duplicate",
    "output-factors.csv",
    (folder) => change(folder, "output-factors.csv", (text) => text.replace("r002,", "r001,")),
  ],
  [
    "NaN",
    "number-not-finite",
    '"NaN"',
    (folder) => change(folder, "separation.csv", (text) => text.replace("10.4426", "NaN")),
  ],
  [
    "infinity",
    "number-not-finite",
    '"-inf"',
    (folder) => change(folder, "separation.csv", (text) => text.replace("10.4426", "-inf")),
  ],
  [
    "a number too large to be held",
    "number-not-finite",
    "1e999",
    (folder) => change(folder, "separation.csv", (text) => text.replace("10.4426", "1e999")),
  ],
  [
    "a million rows",
    "table-too-long",
    "100000 rows",
    (folder) => {
      const [header, row] = readFileSync(join(folder, "background.csv"), "utf8").split("\n");
      writeFileSync(join(folder, "background.csv"), `${header}\n${`${row}\n`.repeat(1_000_000)}`);
    },
  ],
  [
    "a file of 1 GB",
    "file-too-large",
    "the file has 1024 MiB; at most 64 MiB are read.",
    (folder) => truncateSync(join(folder, "separation.csv"), 2 ** 30),
  ],
  [
    "a descriptor of 1 GB",
    "file-too-large",
    "datapackage.json: the file has 1024 MiB",
    (folder) => truncateSync(join(folder, "datapackage.json"), 2 ** 30),
  ],
  [
    "a binary file",
    "text-binary",
    "separation.csv",
    (folder) =>
      writeFileSync(
        join(folder, "separation.csv"),
        Uint8Array.from({ length: 5000 }, (_, i) => (i * 37) % 256),
      ),
  ],
  [
    "a path that leads out of the folder",
    "path-outside",
    "../calibration.csv",
    (folder) => {
      writeFileSync(join(folder, "../calibration.csv"), "secret");
      change(folder, "datapackage.json", (text) => text.replace('"calibration.csv"', '"../calibration.csv"'));
    },
  ],
  [
    "a link that leads out of the folder",
    "file-unreadable",
    "it leads out of the folder",
    (folder) => {
      writeFileSync(join(folder, "../secret.csv"), "secret");
      rmSync(join(folder, "calibration.csv"));
      symlinkSync("../secret.csv", join(folder, "calibration.csv"));
    },
  ],
  [
    "a descriptor that is a link out of the folder",
    "file-unreadable",
    "it leads out of the folder",
    (folder) => {
      cpSync(join(folder, "datapackage.json"), join(folder, "../elsewhere.json"));
      rmSync(join(folder, "datapackage.json"));
      symlinkSync("../elsewhere.json", join(folder, "datapackage.json"));
    },
  ],
  [
    "a pipe in a table's place",
    "file-unreadable",
    "it is no plain file but a device, pipe or socket",
    (folder) => {
      rmSync(join(folder, "calibration.csv"));
      makePipe(join(folder, "calibration.csv"));
    },
  ],
  [
    "a folder in a table's place",
    "file-",
    "calibration.csv",
    (folder) => {
      rmSync(join(folder, "calibration.csv"));
      mkdirSync(join(folder, "calibration.csv"));
    },
  ],
];

describe("bad input is refused by every command with status 2, a clear message and no stack trace", () => {
  test.each(SPOILT)("%s", async (_, code, says, spoil) =>
    inCopyOfDemonstration(async (folder) => {
      spoil(folder);
      const said = await refusals(folder);
      expect(said).toContain(`[${code}`);
      expect(said).toContain(says);
    }),
  );

  test("all faults come in one go, file by file", async () =>
    inCopyOfDemonstration(async (folder) => {
      change(folder, "separation.csv", (text) => text.replace("10.4426", "abc").replace("10.4259", "def"));
      change(folder, "calibration.csv", (text) => text.replace("1.5997", "ghi"));
      rmSync(join(folder, "background.csv"));
      const { status, out } = await alcedo(["check", folder], { columns: 120 });
      expect(status).toBe(2);
      expect(out).toMatch(/has faults of form: \d errors/);
      expect(out).toMatch(/^separation\.csv: 2 errors$/m);
      expect(out).toMatch(/^calibration\.csv: 1 error$/m);
      expect(out).toMatch(/^background\.csv: 1 error$/m);
    }));

  test("what a file says cannot colour or rewrite the terminal", async () =>
    inCopyOfDemonstration(async (folder) => {
      const hostile = "\\u001b[31mred\\u0007\\u202e";
      change(folder, "datapackage.json", (text) =>
        text.replace(/"title": "[^"]*"/, `"title": "${hostile}"`).replace('"F-0317"', `"${hostile}"`),
      );
      change(folder, "output-factors.csv", (text) => text.replaceAll("r052", "r\u001b[2J"));
      for (const words of [
        ["evaluate", folder],
        ["check", folder],
        ["trace", folder, "output-factor.cone-5"],
      ]) {
        const { status, out } = await alcedo(words);
        expect(status).toBe(0);
        expect([...out].filter((character) => character < "\n" || (character > "\n" && character < " "))).toEqual([]);
        expect(out).not.toContain("\u202e");
        expect(out).toContain("\\u{1b}[31mred");
      }
    }));

  test("a folder's own name cannot either", async () =>
    inScratch(async (scratch) => {
      const { status, err } = await alcedo(["evaluate", join(scratch, "a\u001b[31mb")]);
      expect(status).toBe(2);
      expect(err).toContain("\\u{1b}[31m");
      expect(err).not.toContain("\u001b");
    }));
});
