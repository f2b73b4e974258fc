import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DEPTH_LIMIT, scanJson } from "./json-scan.ts";

function parses(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

test.each([
  "{}",
  "[]",
  "0",
  '"a"',
  "true",
  " null ",
  '{"a":[1,2,{"b":null}],"c":"\\u00e9\\n"}',
  "[[],{}]",
  "-1.5e+3",
  "\n{ }\n",
])("%s has no fault", (text) => {
  expect(scanJson(text)).toEqual([]);
});

test.each([
  ["", 0, "a value is needed; the file ends here"],
  ['{"a": 1,}', 8, "no comma may stand before }"],
  ["[1, 2,]", 6, "no comma may stand before ]"],
  ['{"a": 1 "b": 2}', 8, "a comma or } should follow the value; here stands a quotation mark"],
  ["{'a': 1}", 1, "keys are written in double quotes"],
  ["{a: 1}", 1, "keys are written in double quotes"],
  ["{\"a\": 'x'}", 6, "texts are written in double quotes"],
  ['{"a": x}', 6, "texts are written in double quotes; without them only true, false and null are known"],
  ['{"a" 1}', 5, 'a colon should follow the key; here stands "1"'],
  ['{"a": NaN}', 6, "JSON has no NaN and no infinity"],
  ['{"a": -Infinity}', 6, "JSON has no NaN and no infinity"],
  ['{"a": +1}', 6, "numbers have no plus sign at the front"],
  ['{"a": .5}', 6, "numbers have a digit before the point"],
  ['{"a": 01}', 7, "the number is not written as JSON asks: no leading zeros, and digits behind the point"],
  ['{"a": 1.}', 7, "the number is not written as JSON asks: no leading zeros, and digits behind the point"],
  ['{"a": 1,5}', 8, 'a key in double quotes is needed; here stands "5"'],
  ['{"a": 1} // x', 9, "nothing may follow the value; JSON has no comments"],
  ['{ /* x */ "a": 1}', 2, "a key in double quotes is needed; JSON has no comments"],
  ['{"a": "x', 6, "the text has no closing quotation mark"],
  ['{"a": "x\n"}', 6, "the text has no closing quotation mark on its line"],
  ['{"a": "C:\\data"}', 9, "a backslash in a text is doubled, or begins an escape such as \\n"],
  ['{"a": "\t"}', 7, "a control character stands in a text; write it as \\u and four digits"],
  ['{"a": [1, 2}', 11, 'a comma or ] should follow the value; here stands "}"'],
  ['{"a": ]', 6, 'a value is needed; here stands "]"'],
  ['{"a": 1', 7, "a comma or } should follow the value; the file ends here"],
  ["[1] [2]", 4, 'nothing may follow the value; here stands "["'],
  ["\ufeff{}", 0, 'a value is needed; here stands "\ufeff"'],
])("%j is at fault at %i: %s", (text, offset, message) => {
  expect(scanJson(text)).toMatchObject([{ kind: "syntax", offset, message }]);
  expect(parses(text)).toBe(false);
});

describe("what the parser of the language keeps to itself is found:", () => {
  test("a key that is given twice, with its path, every time", () => {
    const text = '{"a": {"b": 1, "c": 2, "b": 3}, "d": [{"e": 1, "e": 2}], "a": 0}';
    expect(parses(text)).toBe(true);
    expect(scanJson(text).map(({ kind, path, offset }) => [kind, path.join("/"), offset])).toEqual([
      ["duplicate-key", "a/b", text.lastIndexOf('"b"')],
      ["duplicate-key", "d/0/e", text.lastIndexOf('"e"')],
      ["duplicate-key", "a", text.lastIndexOf('"a"')],
    ]);
  });

  test("a key twice in other letters for the same character", () => {
    expect(scanJson('{"a": 1, "\\u0061": 2}')).toMatchObject([{ kind: "duplicate-key" }]);
  });

  test("the same key in two objects is no fault", () => {
    expect(scanJson('[{"a": 1}, {"a": {"a": 1}}]')).toEqual([]);
  });

  test("a number that overflows, half a surrogate pair", () => {
    expect(scanJson('{"a": 1e999, "b": [0, "\\ud800"]}').map(({ kind, path }) => [kind, path])).toEqual([
      ["value", ["a"]],
      ["value", ["b", 1]],
    ]);
    expect(scanJson('["\\ud83d\\ude00", 1e-999]')).toEqual([]);
  });

  test("nesting without measure, a million levels of it", () => {
    const nested = (levels: number) => "[".repeat(levels) + "]".repeat(levels);
    expect(scanJson(nested(DEPTH_LIMIT))).toEqual([]);
    expect(scanJson(nested(DEPTH_LIMIT + 1))).toMatchObject([{ kind: "too-deep", offset: DEPTH_LIMIT }]);
    expect(scanJson(nested(1_000_000))).toMatchObject([{ kind: "too-deep" }]);
  });
});

describe("against the parser of the language", () => {
  test("every text that it writes is accepted", () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 5 }), fc.constantFrom(0, 2), (value, indent) => {
        expect(scanJson(JSON.stringify(value, undefined, indent)).filter(({ kind }) => kind === "syntax")).toEqual([]);
      }),
    );
  });

  test("a text with one character taken out, put in or exchanged is accepted exactly when it parses", () => {
    const character = fc.constantFrom(..."{}[]\",:0123456789.eE+-tfnul\\ \n'x");
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 3 }), fc.nat(), fc.nat(1), character, (value, at, out, put) => {
        const whole = JSON.stringify(value);
        const place = at % (whole.length + 1);
        const text = whole.slice(0, place) + put + whole.slice(place + out);
        expect(scanJson(text).every(({ kind }) => kind !== "syntax")).toBe(parses(text));
      }),
      { numRuns: 3000 },
    );
  });

  test("any sequence of JSON's own characters is accepted exactly when it parses", () => {
    const piece = fc.constantFrom("{", "}", "[", "]", ",", ":", '"a"', "1", "-", "0.5", "true", "null", " ");
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 9 }), (pieces) => {
        const text = pieces.join("");
        expect(scanJson(text).every(({ kind }) => kind !== "syntax")).toBe(parses(text));
      }),
      { numRuns: 3000 },
    );
  });
});
