import { expect, test } from "vitest";
import { present } from "./present.ts";

test("properties without a value are left out; null, nil and empty texts are values", () => {
  const kept = present({ a: 1, b: undefined as number | undefined, c: null, d: 0, e: "" });
  expect(Object.keys(kept)).toEqual(["a", "c", "d", "e"]);
  expect("b" in kept).toBe(false);
});
