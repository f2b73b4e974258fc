import { expect, test } from "vitest";
import { apertureKey, sideOfEqualArea, widened } from "./aperture.ts";

test("the side of a square of equal area", () => {
  expect(sideOfEqualArea({ shape: "rectangle", x_mm: 20, y_mm: 5 })).toBe(10);
  // r√π for r = 5, docs/checks.md, Fields
  expect(sideOfEqualArea({ shape: "circle", diameter_mm: 10 })).toBeCloseTo(8.86227, 5);
});

test("a wider opening is wider along each of its axes", () => {
  expect(widened({ shape: "rectangle", x_mm: 20, y_mm: 5 }, 1)).toEqual({ shape: "rectangle", x_mm: 21, y_mm: 6 });
  expect(widened({ shape: "circle", diameter_mm: 5 }, -1)).toEqual({ shape: "circle", diameter_mm: 4 });
});

test("openings of other shape or size have other keys", () => {
  const keys = [
    apertureKey({ shape: "rectangle", x_mm: 5, y_mm: 5 }),
    apertureKey({ shape: "rectangle", x_mm: 5, y_mm: 6 }),
    apertureKey({ shape: "rectangle", x_mm: 6, y_mm: 5 }),
    apertureKey({ shape: "circle", diameter_mm: 5 }),
    apertureKey({ shape: "circle", diameter_mm: 5.5 }),
  ];
  expect(new Set(keys).size).toBe(keys.length);
});
