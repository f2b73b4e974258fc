import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { columnGroups, columnWidths } from "./column-widths.ts";

const need = fc
  .tuple(fc.integer({ min: 10, max: 200 }), fc.integer({ min: 0, max: 400 }))
  .map(([least, more]) => ({ least, natural: least + more }));

describe("widths of columns", () => {
  test("are what each asks for where there is room", () => {
    expect(
      columnWidths(
        [
          { least: 10, natural: 40 },
          { least: 20, natural: 60 },
        ],
        100,
      ),
    ).toEqual([40, 60]);
  });

  test("are shared in the measure in which columns asked for more", () => {
    expect(
      columnWidths(
        [
          { least: 20, natural: 20 },
          { least: 20, natural: 120 },
        ],
        80,
      ),
    ).toEqual([20, 60]);
  });

  test("are none where not even the least fits", () => {
    expect(
      columnWidths(
        [
          { least: 60, natural: 60 },
          { least: 50, natural: 90 },
        ],
        100,
      ),
    ).toBeUndefined();
  });

  test("never lie under the least, nor together over the room", () => {
    fc.assert(
      fc.property(
        fc.array(need, { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 100, max: 600 }),
        (needs, room) => {
          const widths = columnWidths(needs, room);
          if (!widths) return;
          widths.forEach((width, i) => {
            expect(width).toBeGreaterThanOrEqual(needs[i]!.least - 1e-9);
          });
          expect(widths.reduce((sum, width) => sum + width, 0)).toBeLessThanOrEqual(room + 1e-6);
        },
      ),
    );
  });
});

describe("columns in groups", () => {
  test("hold the first column in each, every other once, in order, and fit", () => {
    fc.assert(
      fc.property(fc.array(need, { minLength: 2, maxLength: 14 }), (needs) => {
        const groups = columnGroups(needs, 400);
        expect(groups.every(([first]) => first === 0)).toBe(true);
        expect(groups.flatMap((group) => group.slice(1))).toEqual(needs.map((_, i) => i).slice(1));
        for (const group of groups) expect(group.reduce((sum, c) => sum + needs[c]!.least, 0)).toBeLessThanOrEqual(400);
      }),
    );
  });
});
