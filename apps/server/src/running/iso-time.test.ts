import { expect, it } from "vitest";
import { isoTime } from "./iso-time.ts";

it("is the moment, with the offset of this machine", () => {
  for (const ms of [0, Date.UTC(2026, 2, 14, 8, 0, 1), Date.UTC(2026, 6, 1, 23, 59, 59)]) {
    expect(isoTime(ms)).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/);
    expect(Date.parse(isoTime(ms))).toBe(ms);
  }
});
