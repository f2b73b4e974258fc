import { expect, test } from "vitest";
import { dotted, jsonPointer, valueAt } from "./key-path.ts";

test("a path reads as a JSON Pointer, with RFC 6901's escapes", () => {
  expect(jsonPointer([])).toBe("");
  expect(jsonPointer(["resources", 0, "path"])).toBe("/resources/0/path");
  // RFC 6901, 5: "/a~1b" and "/m~0n" (from memory, M).
  expect(jsonPointer(["a/b", "m~n"])).toBe("/a~1b/m~0n");
});

test("a path reads as dotted words", () => {
  expect(dotted([])).toBe("the top level");
  expect(dotted(["alcedo", "detector", "channels", 1])).toBe("alcedo.detector.channels[1]");
  expect(dotted([0, "a"])).toBe("[0].a");
});

test("the value at a path is found, and absent where there is none", () => {
  const json = { a: [{ b: 1 }], n: null };
  expect(valueAt(json, ["a", 0, "b"])).toBe(1);
  expect(valueAt(json, [])).toBe(json);
  expect(valueAt(json, ["a", 1, "b"])).toBeUndefined();
  expect(valueAt(json, ["n", "x"])).toBeUndefined();
  expect(valueAt(json, ["a", 0, "b", "c"])).toBeUndefined();
});

test("inherited properties are no values", () => {
  expect(valueAt({}, ["constructor"])).toBeUndefined();
  expect(valueAt({}, ["__proto__"])).toBeUndefined();
});
