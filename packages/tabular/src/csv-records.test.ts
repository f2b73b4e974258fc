import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, test } from "vitest";
import { readRecords, recordText } from "./csv-records.ts";

const limits = { records: 1000, fields: 100 };
const read = (text: string, delimiter = ",") => readRecords(text, delimiter, limits);

test.each([
  ["", []],
  ["a", [["a"]]],
  ["a\n", [["a"]]],
  [
    "a,b\nc,d",
    [
      ["a", "b"],
      ["c", "d"],
    ],
  ],
  ["a,b\n\nc,d\n", [["a", "b"], [""], ["c", "d"]]],
  [
    "a,\n,b",
    [
      ["a", ""],
      ["", "b"],
    ],
  ],
  ['"a,b","c ""d""",""', [["a,b", 'c "d"', ""]]],
  [
    '"a\nb",c\nd,e',
    [
      ["a\nb", "c"],
      ["d", "e"],
    ],
  ],
  [' a , "b"', [[" a ", ' "b"']]],
  ['5" cone,a"b', [['5" cone', 'a"b']]],
  ["\n\n", [[""], [""]]],
  [",", [["", ""]]],
  ['""', [[""]]],
  ['"a"\n', [["a"]]],
])("%j is %j", (text, records) => {
  const reading = read(text);
  expect(reading.records).toEqual(records);
  expect(reading.stop).toEqual({ why: "end" });
});

test("each record knows the physical line on which it starts", () => {
  expect(read('h\n"a\nb\nc"\nd\n\ne').lines).toEqual([1, 2, 5, 6, 7]);
});

test.each([
  ['a,b\nc,"d\ne', 2, "is not closed"],
  ['"a" ,b', 1, "cell 1 goes on behind"],
  ['x\na,"b"c', 2, "cell 2 goes on behind"],
  ['"a""', 1, "is not closed"],
])("quotation marks that do not pair up in %j are told by line %i: %s", (text, line, message) => {
  const { stop } = read(text);
  expect(stop).toMatchObject({ why: "quotes", line });
  expect(stop.why === "quotes" && stop.message).toContain(message);
});

describe("too much is refused early:", () => {
  test("records", () => {
    const text = "a,b\n".repeat(5);
    expect(readRecords(text, ",", { records: 5, fields: 9 }).stop).toEqual({ why: "end" });
    expect(readRecords(text, ",", { records: 4, fields: 9 }).stop).toEqual({ why: "too-many-records", line: 5 });
  });

  test("fields", () => {
    expect(readRecords("a\na,b,c", ",", { records: 9, fields: 3 }).stop).toEqual({ why: "end" });
    expect(readRecords("a\na,b,c", ",", { records: 9, fields: 2 }).stop).toEqual({ why: "too-many-fields", line: 2 });
  });

  test("a quotation mark that is not closed in a text of many megabytes takes no time", () => {
    const text = `"${'""'.repeat(4_000_000)}`;
    expect(read(text).stop.why).toBe("quotes");
  });
});

const field = fc.string({ unit: fc.constantFrom(...'ab ,;\t"\n1.é'), maxLength: 6 });
const table = fc.array(fc.array(field, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 6 });
const delimiters = fc.constantFrom(",", ";", "\t");

test("what is written is read again, with any delimiter", () => {
  fc.assert(
    fc.property(table, delimiters, (records, delimiter) => {
      const text = records.map((record) => `${recordText(record, delimiter)}\n`).join("");
      const reading = read(text, delimiter);
      expect(reading.records).toEqual(records);
      const before = (k: number) =>
        records
          .slice(0, k)
          .map((record) => `${recordText(record, delimiter)}\n`)
          .join("");
      expect(reading.lines).toEqual(records.map((_, k) => before(k).split("\n").length));
    }),
  );
});

test("a library (papaparse) reads the same from what is written, and writes what is read the same", () => {
  fc.assert(
    fc.property(table, delimiters, (records, delimiter) => {
      const text = records.map((record) => recordText(record, delimiter)).join("\n");
      const theirs = Papa.parse<string[]>(text, { delimiter, newline: "\n" });
      expect(theirs.errors).toEqual([]);
      expect(read(text, delimiter).records).toEqual(theirs.data);
      const written = Papa.unparse(records, { delimiter, newline: "\n" });
      expect(read(written, delimiter).records).toEqual(records);
    }),
  );
});

test("a cell that begins with a byte-order mark keeps it", () => {
  expect(recordText(["\ufeffreading", "b"], ",")).toBe('"\ufeffreading",b');
});
