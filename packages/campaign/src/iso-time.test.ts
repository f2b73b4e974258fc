import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readTime, type TimeFault } from "./iso-time.ts";

describe("a time of ISO 8601", () => {
  // Seconds by GNU date (date -u -d TEXT +%s), status C; "1985-04-12…" and "1996-12-19…" are the examples of RFC 3339.
  test.each([
    ["1970-01-01T00:00:00Z", 0],
    ["1985-04-12T23:20:50Z", 482196050],
    ["1996-12-19T16:39:57-08:00", 851042397],
    ["2000-02-29T12:00:00Z", 951825600],
    ["2026-03-14T09:26:53+01:00", 1773476813],
    ["2026-03-14 09:26:53+01:00", 1773476813],
    ["2026-03-14T09:26:53+0100", 1773476813],
    ["2026-03-14T09:26:53+01", 1773476813],
    ["2026-03-14T08:26Z", 1773476760],
    ["1969-12-31T23:59:59Z", -1],
    ["1900-03-01T00:00:00Z", -2203891200],
    ["2026-03-14T08:26:53.5Z", 1773476813.5],
    ["2026-03-14T08:26:53,25Z", 1773476813.25],
    [" 1970-01-01T00:00:01Z ", 1],
  ])("%s is %d s", (text, seconds) => {
    expect(readTime(text)).toBe(seconds);
  });

  test.each([
    ["14.03.2026 09:26", "not a time", "2026-03-14T"],
    ["2026-03-14", "not a time", "2026-03-14T"],
    ["2026-3-14T9:26Z", "not a time", "2026-03-14T"],
    ["2026-03-14T09:26:53.1234567890Z", "not a time", "2026-03-14T"],
    ["", "not a time", "2026-03-14T"],
    ["2026-02-29T00:00:00Z", "day that the calendar does not have", "date"],
    ["1900-02-29T00:00:00Z", "day that the calendar does not have", "date"],
    ["2026-04-31T00:00:00Z", "day that the calendar does not have", "date"],
    ["2026-13-01T00:00:00Z", "day that the calendar does not have", "date"],
    ["2026-00-01T00:00:00Z", "day that the calendar does not have", "date"],
    ["2026-01-00T00:00:00Z", "day that the calendar does not have", "date"],
    ["1899-12-31T00:00:00Z", "before 1900", "year"],
    ["2026-03-14T24:00:00Z", "time of day", "Hours"],
    ["2026-03-14T09:60:00Z", "time of day", "Hours"],
    ["2026-03-14T09:26:60Z", "time of day", "Hours"],
    ["2026-03-14T09:26:53", "no offset", "+01:00"],
    ["2026-03-14T09:26:53+19:00", "impossible offset", "18:00"],
    ["2026-03-14T09:26:53+01:60", "impossible offset", "18:00"],
  ])("%j is refused: %s", (text, fault, remedy) => {
    const outcome = readTime(text) as TimeFault;
    expect(outcome.fault).toContain(fault);
    expect(outcome.remedy).toContain(remedy);
  });

  test("agrees with the clock of the language over four centuries, at every offset", () => {
    // Date is the outside value here; the code itself has none.
    const instant = fc.integer({ min: Date.UTC(1901, 0, 2) / 1000, max: Date.UTC(2299, 11, 30) / 1000 });
    const minutes = fc.integer({ min: -18 * 60, max: 18 * 60 });
    fc.assert(
      fc.property(instant, minutes, (seconds, offset) => {
        const local = new Date((seconds + offset * 60) * 1000).toISOString().slice(0, 19);
        const size = Math.abs(offset);
        const two = (n: number) => String(n).padStart(2, "0");
        const text = `${local}${offset < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
        expect(readTime(text)).toBe(seconds);
      }),
    );
  });
});
