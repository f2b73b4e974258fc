import type { OutlineResource } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { readTableText } from "./csv-table.ts";

const resource = (properties: object = {}): OutlineResource => ({
  name: "calibration",
  path: "calibration.csv",
  series: "calibration",
  resource: { name: "calibration", path: "calibration.csv", alcedo: { series: "calibration" }, ...properties },
});
const read = (text: string, properties: object = {}) => readTableText(text, resource(properties), ["blue", "green"]);
const HEADER = "reading;condition;signal_blue;signal_green;dose_Gy;dose_u_percent;note";

test("a blank line is a row without content, so that rows keep their numbers", () => {
  const { table } = read(`${HEADER}\nc1;ref;6,5;3,5;1;1;\n\nc2;ref;6,5;3,5;1;1;\n`);
  expect(table?.rows.map((row) => row[0])).toEqual(["c1", "", "c2"]);
  expect(table?.rows[1]).toHaveLength(7);
  expect(table?.lines).toEqual([2, 3, 4]);
});

test("a note of several lines moves the lines of the rows behind it", () => {
  const { table } = read(`${HEADER}\nc1;ref;6,5;3,5;1;1;"one\ntwo\nthree"\nc2;ref;6,5;3,5;1;1;\n`);
  expect(table?.lines).toEqual([2, 5]);
  expect(table?.rows[0]?.[6]).toBe("one\ntwo\nthree");
});

test("columns with neither name nor content are left out with a notice, wherever they stand", () => {
  const { table, findings } = read("reading;;condition;signal_blue;;\nc1;;ref;6,5;;\n");
  expect(table?.columns).toEqual(["reading", "condition", "signal_blue"]);
  expect(table?.rows).toEqual([["c1", "ref", "6,5"]]);
  expect(findings).toMatchObject([{ level: "notice", code: "column-empty", facts: { columns: 3 } }]);
});

test("a column without name but with content is kept for the interpretation to refuse", () => {
  const { table, findings } = read("reading;condition;\nc1;ref;x\n");
  expect(table?.columns).toEqual(["reading", "condition", ""]);
  expect(findings).toEqual([]);
});

test("a header whose quotation marks do not pair up is told as such, not as one without delimiters", () => {
  expect(read('"reading,condition\nc1,ref').findings).toMatchObject([{ code: "csv-quotes", where: { line: 1 } }]);
});

describe("ragged rows", () => {
  test("are all named, with their counts", () => {
    const { table, findings } = read(`${HEADER}\nc1;ref\nc2;ref;6,5;3,5;1;1;\nc3;ref;6,5;3,5;1;1;x;y\n`);
    expect(table).toBeUndefined();
    expect(findings.map(({ code, where, facts }) => [code, where?.row, where?.line, facts])).toEqual([
      ["row-ragged", 1, 2, { found: 2, expected: 7 }],
      ["row-ragged", 3, 4, { found: 8, expected: 7 }],
    ]);
  });

  test.each([
    [HEADER.replaceAll(";", ","), "c1,ref,6,5,3,5,1,1,x", "decimal comma"],
    [HEADER, "c1;ref;6,5;3,5;1;1;x;;", "Remove the semicolons"],
    [HEADER, "c1;ref", "Add or remove cells"],
  ])("under %s, %s gets a remedy that fits: %s", (header, row, remedy) => {
    expect(read(`${header}\n${row}`).findings[0]?.remedy).toContain(remedy);
  });

  test("beyond fifty are counted", () => {
    const { findings } = read(`${HEADER}\n${"c1;ref\n".repeat(80)}`);
    expect(findings).toHaveLength(51);
    expect(findings.at(-1)).toMatchObject({ code: "more-errors", facts: { more: 30 } });
  });
});

describe("what the resource states is honoured:", () => {
  test("a delimiter where several would fit", () => {
    const text = "reading,x;condition\n1,2;3";
    expect(read(text).findings).toMatchObject([{ code: "delimiter-unclear" }]);
    expect(read(text, { dialect: { delimiter: ";" } }).table?.columns).toEqual(["reading,x", "condition"]);
  });

  test("a delimiter that is not the file's is told", () => {
    const { table, findings } = read(`${HEADER}\nc1;ref;6,5;3,5;1;1;\n`, { dialect: { delimiter: "\t" } });
    expect(table).toBeUndefined();
    expect(findings[0]?.message).toBe(
      "calibration.csv: the resource states the delimiter tab, but the header is divided by semicolons.",
    );
  });

  test.each([
    [",", ","],
    [".", "."],
  ])("the decimal sign %j, where looking decides nothing", (decimalChar, decimal) => {
    const text = `${HEADER}\nc1;ref;6,500;3,500;1;1;\n`;
    const schema = { fields: [{ name: "reading" }, { name: "signal_blue", type: "number", decimalChar }] };
    expect(read(text, { schema }).table?.decimal).toBe(decimal);
  });

  test("a table of one column, with its delimiter stated", () => {
    expect(read("reading\nc1", { dialect: { delimiter: "," } }).table?.rows).toEqual([["c1"]]);
  });
});

describe("the decimal sign is looked for", () => {
  test("in number columns alone: notes and unknown columns may hold anything", () => {
    const { table } = read(`${HEADER};serial\nc1;ref;6,5;3,5;1;1;1.5 h;1.234\n`);
    expect(table?.decimal).toBe(",");
  });

  test("not in excluded readings", () => {
    const { table } = read("reading;condition;signal_blue;exclude\nc1;ref;6,5;\nc2;ref;6.5;wrong sign\n");
    expect(table?.decimal).toBe(",");
  });

  test("and both cells are named where two are mixed", () => {
    const { findings } = read(`${HEADER}\nc1;ref;6,5;3,5;1;1;\nc2;ref;6,5;3.5;1;1;\n`);
    expect(findings[0]?.message).toBe(
      'calibration.csv: "3.5" in row 2 (line 3), column signal_green has a point, "6,5" in row 1 (line 2), column signal_blue a comma.',
    );
  });

  test("and an ambiguous one gets a remedy that can be pasted", () => {
    const [finding] = read(`${HEADER}\nc1;ref;6,500;3,500;1;1;\n`).findings;
    const [, pasted] = /("schema": .*); or/.exec(finding!.remedy!)!;
    const properties = JSON.parse(`{${pasted}}`) as object;
    expect(read(`${HEADER}\nc1;ref;6,500;3,500;1;1;\n`, properties).table?.decimal).toBe(",");
  });
});
