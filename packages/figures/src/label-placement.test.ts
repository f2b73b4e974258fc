import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { along, around, overlap, within } from "./box.ts";
import { nameless, namesDrawn, placeNames } from "./label-placement.ts";

const bounds = { left: 0, top: 0, width: 560, height: 300 };

describe("names beside marks", () => {
  test("never lie on each other, on a mark or beyond the plot, however crowded", () => {
    fc.assert(
      fc.property(
        // up to 30 marks: more than any series of fields
        fc.array(fc.record({ x: fc.integer({ min: 0, max: 560 }), y: fc.integer({ min: 0, max: 300 }) }), {
          maxLength: 30,
        }),
        (places) => {
          const names = places.map((place, k) => ({ ...place, text: `cone-${k}.5` }));
          const boxes = placeNames(names, bounds).flatMap(({ box }) => box ?? []);
          for (const [i, box] of boxes.entries()) {
            expect(within(box, bounds)).toBe(true);
            expect(boxes.slice(i + 1).some((other) => overlap(box, other))).toBe(false);
            expect(names.some(({ x, y }) => overlap(box, around(x, y, 6)))).toBe(false);
          }
        },
      ),
    );
  });

  test("keep off the line of a fit", () => {
    const line = along([
      [0, 300],
      [560, 0],
    ]);
    const [placed] = placeNames([{ x: 280, y: 150, text: "half · 200 mm" }], bounds, line);
    expect(line.some((box) => overlap(box, placed!.box!))).toBe(false);
  });

  test("stand at the end of an upright bar, without a line that leads there", () => {
    const [placed] = placeNames([{ x: 280, y: 150, text: "10x10", bar: 40 }], bounds);
    expect(placed!.box!.top + placed!.box!.height).toBeLessThanOrEqual(110);
    expect(namesDrawn([placed!]).map(({ name }) => name)).toEqual(["text"]);
  });

  test("are led to by a thin line where they stand off", () => {
    const wall = [{ left: 230, top: 120, width: 100, height: 60 }];
    const placed = placeNames([{ x: 280, y: 150, text: "10x10" }], bounds, wall);
    expect(placed[0]!.led).toBe(true);
    expect(namesDrawn(placed).map(({ name }) => name)).toEqual(["line", "text"]);
  });

  test("that find no place are named in a sentence, so that none is lost", () => {
    const placed = placeNames([{ x: 5, y: 5, text: "10x10" }], { left: 0, top: 0, width: 10, height: 10 });
    expect(namesDrawn(placed)).toEqual([]);
    expect(nameless(placed)).toBe("Without a name in the picture, for want of room: 10x10.");
    expect(nameless([])).toBeUndefined();
  });
});
