import { expect, test } from "vitest";
import { interleaved } from "./interleaved.ts";

/** Keeps the thread busy for so many milliseconds. */
function busy(ms: number): number {
  const end = performance.now() + ms;
  let turns = 0;
  while (performance.now() < end) turns++;
  return turns;
}

test("ways run in turn, warmed up twice, and each gets its row", () => {
  const order: string[] = [];
  const rows = interleaved({ plain: () => order.push("plain"), fast: () => order.push("fast") }, 3);
  expect(rows.map(({ what }) => what)).toEqual(["plain", "fast"]);
  expect(order).toEqual(Array(5).fill(["plain", "fast"]).flat());
});

test("the median does not see one slow round", () => {
  let round = 0;
  const [row] = interleaved({ way: () => busy(++round === 5 ? 60 : 2) }, 5);
  expect(row!.ms).toBeGreaterThanOrEqual(2);
  expect(row!.ms).toBeLessThan(30);
});

test("fewer than three rounds are refused", () => {
  expect(() => interleaved({}, 2)).toThrow("at least 3 rounds");
});
