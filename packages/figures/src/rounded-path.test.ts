import { expect, test } from "vitest";
import { roundedPath } from "./rounded-path.ts";

const turn = {
  corners: [
    [0, 0],
    [0, -10],
    [10, -10],
  ] as const,
  radius: 2,
};

test("a corner becomes a quarter of a circle that begins and ends a radius before and behind it", () => {
  // y is turned over on the page: down, then to the right, which is a turn against the clock
  expect(roundedPath(turn, (x, y) => [x * 3, -y * 3], 3)).toBe("M0 0L0 24A6 6 0 0 0 6 30L30 30");
});

test("without a radius the corners stay sharp", () => {
  expect(roundedPath({ ...turn, radius: 0 }, (x, y) => [x, -y], 1)).toBe("M0 0L0 10L10 10");
});
