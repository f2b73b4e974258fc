import { expect, test } from "vitest";
import { endsOf, intervalText, percentText } from "./interval.ts";

test("an interval is written with two digits of its uncertainty, and the value ends at the same place", () => {
  expect(intervalText({ value: 0.30883, U: 0.00627 })).toBe("0.3088 ± 0.0063");
  expect(intervalText({ value: 123.4, U: 12.3 })).toBe("123 ± 12");
  expect(percentText({ value: -0.00183, U: 0.0041 })).toBe("−0.18 ± 0.41 %");
});

test("an unknown uncertainty is said to be unknown, and none is left away", () => {
  expect(intervalText({ value: 0.75, U: null })).toBe("0.7500 (uncertainty unknown)");
  expect(percentText({ value: 0.01, U: null })).toBe("+1.00 % (uncertainty unknown)");
  expect(percentText({ value: 0, U: 0 })).toBe("0.00 %");
});

test("the ends of an interval are its value where nothing is known of it", () => {
  expect([endsOf({ value: 1, U: 0.25 }), endsOf({ value: 1, U: null })]).toEqual([
    [0.75, 1.25],
    [1, 1],
  ]);
});
