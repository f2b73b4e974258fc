import { expect, test } from "vitest";
import { rounded } from "./rounded.ts";

test("a length is written to a hundredth, without zeros at the end", () => {
  expect([1.005, 12.3456, 100, -0.1, 0.999].map(rounded)).toEqual(["1", "12.35", "100", "-0.1", "1"]);
});

test("nothing is written as minus zero", () => {
  expect([-0, -0.001].map(rounded)).toEqual(["0", "0"]);
});

test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])("%d never reaches a page", (length) => {
  expect(() => rounded(length)).toThrow(RangeError);
});
