import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type FibrePath, fibrePath } from "./fibre-path.ts";

/** Straight runs, each rounded corner taking a radius from both of its runs and giving a quarter of a circle back. */
function pathLength({ corners, radius }: FibrePath): number {
  const runs = corners.slice(1).map(([x, y], i) => Math.hypot(x - corners[i]![0], y - corners[i]![1]));
  const rounded = corners.length - 2;
  return runs.reduce((a, b) => a + b, 0) - rounded * 2 * radius + rounded * (Math.PI / 2) * radius;
}

describe("the path of a fibre", () => {
  test("has just the length that is stated, rounded corners counted, and stays in the field", () => {
    fc.assert(
      fc.property(
        // from less than half a field to eight times its width, in fields of 5 to 100 mm
        fc.double({ min: 0.1, max: 8, noNaN: true }),
        fc.double({ min: 5, max: 100, noNaN: true }),
        (times, width) => {
          const path = fibrePath(times * width, width / 2, 0.42 * width, 0.03 * width);
          if (!path) {
            expect(times).toBeGreaterThan(3);
            return;
          }
          expect(pathLength(path)).toBeCloseTo(times * width, 6);
          for (const [x, y] of path.corners) {
            expect(Math.abs(x)).toBeLessThanOrEqual(0.42 * width + 1e-9);
            expect(y).toBeLessThanOrEqual(0);
            expect(y).toBeGreaterThanOrEqual(-width / 2 - 1e-9);
          }
        },
      ),
    );
  });

  test("leaves room for every rounded corner", () => {
    for (const length of [50.001, 51, 60, 200, 400, 600]) {
      const { corners, radius } = fibrePath(length, 50, 42, 3)!;
      corners.slice(1).forEach(([x, y], i) => {
        const run = Math.abs(x - corners[i]![0]) + Math.abs(y - corners[i]![1]);
        // the first and the last run have a corner at one end only
        const needed = i === 0 || i === corners.length - 2 ? radius : 2 * radius;
        expect(run).toBeGreaterThanOrEqual(needed - 1e-9);
      });
    }
  });

  test("is straight where the fibre is shorter than the way to the edge, or just as long", () => {
    expect(fibrePath(30, 50, 42, 3)).toEqual({
      corners: [
        [0, 0],
        [0, -30],
      ],
      radius: 0,
    });
    expect(fibrePath(50, 50, 42, 3)!.corners).toHaveLength(2);
  });

  test("does not exist where so much fibre has no room", () => {
    expect(fibrePath(400, 2.5, 2.1, 0.2)).toBeUndefined();
  });
});
