import type { Finding } from "@alcedo-dosimetry/campaign";
import { toUtf8 } from "@alcedo-dosimetry/tabular";
import { expect, test } from "vitest";
import { type FolderSource, memoryFolder } from "./folder-source.ts";
import { FILE_LIMIT, openText } from "./open-file.ts";

const folder = memoryFolder("cones", new Map([["a.csv", toUtf8("x,y\r\n")]]));
const open = (source: Partial<FolderSource>, file = "a.csv") => openText({ ...folder, ...source }, { file }) as Finding;

test("a file's text is opened, line ends made one", () => {
  expect(openText(folder, { file: "a.csv" })).toBe("x,y\n");
});

test("a file that is not there is told with one that is like it", () => {
  expect(open({}, "A.csv")).toMatchObject({ code: "file-absent", facts: { nearest: "a.csv" } });
  expect(open({}, "measurements-of-monday.csv").message).toBe(
    "measurements-of-monday.csv: there is no such file in cones.",
  );
});

test("a file that cannot be read is told with the system's reason, made safe to print", () => {
  const fail = () => {
    throw new Error("permission denied\u001b[2J");
  };
  for (const source of [{ read: fail }, { size: fail }]) {
    expect(open(source)).toMatchObject({ level: "error", code: "file-unreadable", where: { file: "a.csv" } });
    expect(open(source).message).toBe('a.csv: the file cannot be read: "permission denied\\u{1b}[2J".');
  }
});

test("something thrown that is no error is told all the same", () => {
  const read = () => {
    // eslint-disable-next-line @typescript-eslint/only-throw-error -- a source written elsewhere may do so
    throw "broken";
  };
  expect(open({ read }).message).toContain('"broken"');
});

test.each([
  [FILE_LIMIT + 1, "65 MiB"],
  [1e9, "954 MiB"],
  [1e12, "953675 MiB"],
])("%d bytes are refused before they are read", (bytes, words) => {
  const read = () => {
    throw new Error("it was read");
  };
  expect(open({ size: () => bytes, read })).toMatchObject({
    code: "file-too-large",
    facts: { bytes, limit: FILE_LIMIT },
  });
  expect(open({ size: () => bytes, read }).message).toContain(words);
});
