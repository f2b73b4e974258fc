import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import { label, SMALL_SIZE } from "./label.ts";
import { plain } from "./number-text.ts";

const LENGTHS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** The longest round length that takes no more than so much of the page. */
export function roundLength(perMm: number, most: number): number {
  return LENGTHS.findLast((length) => length * perMm <= most) ?? LENGTHS[0]!;
}

/** A bar of a round length, with its length beside it; (x, y) is its left end. */
export function scaleBar(x: number, y: number, perMm: number, most: number): DrawingElement[] {
  const length = roundLength(perMm, most);
  const to = x + length * perMm;
  return [
    element("line", { x1: x, x2: to, y1: y, y2: y, stroke: "muted", "stroke-width": 2 }),
    ...[x, to].map((at) =>
      element("line", { x1: at, x2: at, y1: y - 3, y2: y + 3, stroke: "muted", "stroke-width": 1 }),
    ),
    label(to + 6, y + 4, `${plain(length)} mm`, { size: SMALL_SIZE, role: "muted" }),
  ];
}
