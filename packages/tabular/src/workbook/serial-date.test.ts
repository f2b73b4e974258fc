import fc from "fast-check";
import { expect, test } from "vitest";
import { serialToIso } from "./serial-date.ts";

test.each([
  // ECMA-376 part 1, 18.17.4.1: 1 January 1900 is 1 and 31 December 9999 is 2,958,465 in the 1900 system
  [2958465, "9999-12-31T00:00:00"],
  [61, "1900-03-01T00:00:00"],
  [25569, "1970-01-01T00:00:00"],
  [45000.5, "2023-03-15T12:00:00"],
  [45000.999994213, "2023-03-15T23:59:59.5"],
  [36585, "2000-02-29T00:00:00"],
])("%d is %s", (serial, iso) => expect(serialToIso(serial, false)).toBe(iso));

test("the calendar from 1904 counts 1,462 days less", () => {
  expect(serialToIso(0, true)).toBe("1904-01-01T00:00:00");
  expect(serialToIso(45000 - 1462, true)).toBe(serialToIso(45000, false));
});

test.each([0, 0.75, 59, 60, 60.9, -1, 2958466, Number.NaN, Number.POSITIVE_INFINITY])(
  "%d is no date on which programs agree",
  (serial) => expect(serialToIso(serial, false)).toBeUndefined(),
);

test("agrees with the platform's calendar for every second between 1901 and 9999", () => {
  fc.assert(
    fc.property(fc.integer({ min: -2_177_452_800, max: 253_402_300_799 }), (second) => {
      const serial = second / 86_400 + 25_569;
      expect(serialToIso(serial, false)).toBe(new Date(second * 1000).toISOString().slice(0, 19));
    }),
  );
});
