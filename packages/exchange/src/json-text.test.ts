import { expect, test } from "vitest";
import { readJson } from "./json-text.ts";

const where = { file: "datapackage.json" };

test("a sound text gives its value", () => {
  expect(readJson('{"a": [1, "é"]}', where)).toEqual({ value: { a: [1, "é"] } });
});

test("a syntax error is told by line and character", () => {
  const text = '{\n  "näme": "x"\n  "title": "y"\n}';
  expect(readJson(text, where)).toMatchObject({
    findings: [
      {
        level: "error",
        code: "json-syntax",
        message:
          "datapackage.json, line 3, character 3: a comma or } should follow the value; here stands a quotation mark.",
        where: { file: "datapackage.json", line: 3 },
        facts: { line: 3, character: 3 },
      },
    ],
  });
});

test("characters are counted as people count them", () => {
  expect(readJson('["😀" 1]', where)).toMatchObject({ findings: [{ facts: { line: 1, character: 6 } }] });
});

test("a key that is given twice is named with its place", () => {
  const text = '{\n "alcedo": { "beam": { "id": "a",\n  "id": "b" } } }';
  expect(readJson(text, where)).toMatchObject({
    findings: [
      {
        code: "json-duplicate-key",
        message: "datapackage.json, line 3, character 3: alcedo.beam.id: the key is given twice in one object.",
        where: { key: "/alcedo/beam/id", line: 3 },
      },
    ],
  });
});

test("several faults that leave the syntax whole come in one go", () => {
  const reading = readJson('{"a": 1e999, "a": "\\udc00"}', where);
  expect("findings" in reading && reading.findings.map(({ code }) => code)).toEqual([
    "json-value",
    "json-duplicate-key",
    "json-value",
  ]);
});
