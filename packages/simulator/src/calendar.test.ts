import fc from "fast-check";
import { expect, test } from "vitest";
import { isoTime } from "./calendar.ts";

test.each([
  [{ year: 2026, month: 3, day: 12, hour: 20 }, 0, "2026-03-12T20:00:00+01:00"],
  [{ year: 2026, month: 3, day: 12, hour: 20 }, 4 * 3600 + 61, "2026-03-13T00:01:01+01:00"],
  [{ year: 2024, month: 2, day: 28, hour: 23 }, 7200, "2024-02-29T01:00:00+01:00"],
  [{ year: 2023, month: 2, day: 28, hour: 23 }, 7200, "2023-03-01T01:00:00+01:00"],
  [{ year: 2025, month: 12, day: 31, hour: 23 }, 3600, "2026-01-01T00:00:00+01:00"],
])("%o and %s s later", (start, seconds, text) => {
  expect(isoTime(start, "+01:00", seconds)).toBe(text);
});

test("it agrees with the engine's calendar over four centuries", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1900, max: 2300 }),
      fc.integer({ min: 1, max: 12 }),
      fc.integer({ min: 1, max: 28 }),
      fc.integer({ min: 0, max: 23 }),
      fc.integer({ min: 0, max: 400 * 86_400 }),
      (year, month, day, hour, seconds) => {
        const expected = new Date(Date.UTC(year, month - 1, day, hour) + 1000 * seconds).toISOString();
        expect(isoTime({ year, month, day, hour }, "Z", seconds)).toBe(expected.replace(".000Z", "Z"));
      },
    ),
  );
});
