import { expect, test } from "vitest";
import { along, around, overlap, within } from "./box.ts";

test("boxes that share an edge do not overlap, boxes that share more do", () => {
  const box = { left: 0, top: 0, width: 10, height: 10 };
  expect(overlap(box, { ...box, left: 10 })).toBe(false);
  expect(overlap(box, { ...box, left: 9.9, top: 9.9 })).toBe(true);
  expect(overlap(box, { ...box, top: -10 })).toBe(false);
});

test("a box is within another up to its edges", () => {
  const outer = { left: 0, top: 0, width: 10, height: 10 };
  expect(within(outer, outer)).toBe(true);
  expect(within({ left: 1, top: 1, width: 9.5, height: 2 }, outer)).toBe(false);
});

test("boxes along a line leave no gap that a label could slip through", () => {
  const boxes = along([
    [0, 0],
    [100, 50],
  ]);
  for (let k = 0; k <= 100; k++) expect(boxes.some((box) => overlap(box, around(k, k / 2, 4)))).toBe(true);
});
