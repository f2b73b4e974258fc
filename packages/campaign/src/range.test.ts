import { expect, test } from "vitest";
import { isWithin, RANGES, type Range, rangeInWords } from "./range.ts";

const entries = Object.entries<Range>(RANGES);

test.each(entries)("the range of %s is not empty, and its ends belong to it as stated", (_, range) => {
  expect(range.min).toBeLessThan(range.max);
  expect(isWithin(range.max, range)).toBe(true);
  expect(isWithin(range.min, range)).toBe(range.above === undefined);
});

test.each(entries)("nothing beyond the range of %s, and no NaN or infinity, belongs to it", (_, range) => {
  const step = (range.max - range.min) / 1000;
  for (const value of [
    range.max + step,
    range.min - step,
    Number.NaN,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ]) {
    expect(isWithin(value, range)).toBe(false);
  }
});

test("temperatures in degrees Fahrenheit and kelvin lie outside the range of degrees Celsius", () => {
  expect([22, -5, 37].every((value) => isWithin(value, RANGES.temperature_C))).toBe(true);
  expect([72, 98.6, 295.15].some((value) => isWithin(value, RANGES.temperature_C))).toBe(false);
});

test("a range reads as words", () => {
  expect(rangeInWords(RANGES.temperature_C)).toBe("between -20 and 60 °C");
  expect(rangeInWords(RANGES.dose_Gy)).toBe("above 0 and up to 10000 Gy");
  expect(rangeInWords(RANGES.outputCorrection)).toBe("between 0.5 and 2");
});
