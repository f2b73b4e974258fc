import { expect, it } from "vitest";
import { isDue } from "./backups.ts";

const hour = 3_600_000;
const at = (hours: number) => hours * hour;

it("a backup is due after a day, in a quiet minute, or when there was none for six hours more", () => {
  expect(isDue({ now: at(23.9), last: 0, lastAsked: 0 })).toBe(false);
  expect(isDue({ now: at(24), last: 0, lastAsked: at(23) })).toBe(true);
  expect(isDue({ now: at(25), last: 0, lastAsked: at(25) - 59_000 })).toBe(false);
  expect(isDue({ now: at(25), last: 0, lastAsked: at(25) - 60_000 })).toBe(true);
  expect(isDue({ now: at(29.9), last: 0, lastAsked: at(29.9) })).toBe(false);
  expect(isDue({ now: at(30), last: 0, lastAsked: at(30) })).toBe(true);
});
