import { expect, test } from "vitest";
import { shortened, textWidth } from "./text-width.ts";

// advance widths of DejaVu Sans 2.37 in em, read from its hmtx table (2048 units per em) as packed in dejavu-fonts-ttf 2.37.3
test.each([
  ["a", 0.613],
  ["f", 0.352],
  ["r", 0.411],
  ["m", 0.974],
  ["w", 0.818],
  ["W", 0.989],
  ["M", 0.863],
  ["Q", 0.787],
  ["0", 0.636],
  [" ", 0.318],
  [".", 0.318],
  ["(", 0.39],
  ["%", 0.95],
  ["−", 0.838],
  ["×", 0.838],
  ["Ω", 0.764],
  ["…", 1],
  ["±", 0.838],
  ["⌀", 0.602],
  ["ρ", 0.635],
])("%j is taken to be at least as wide as in a wide font", (character, width) => {
  expect(textWidth(character, 1)).toBeGreaterThanOrEqual(width);
  expect(textWidth(character, 1)).toBeLessThan(width + 0.2);
});

test("marks that combine take no room of their own, and signs without a kind a square", () => {
  expect(textWidth("e\u0301", 10)).toBe(textWidth("e", 10));
  expect(textWidth("中", 10)).toBeGreaterThanOrEqual(10);
});

test("a text that fits stays whole, a longer one ends in an ellipsis and fits", () => {
  expect(shortened("short", 100, 10)).toBe("short");
  const cut = shortened("a very long name of a condition", 80, 10);
  expect(cut).toMatch(/^a very.*…$/);
  expect(textWidth(cut, 10)).toBeLessThanOrEqual(80);
});

test("no character is cut in two", () => {
  expect(shortened("🙂🙂🙂🙂", 30, 10)).toBe("🙂…");
});
