import {
  symbol,
  symbolCircle,
  symbolCross,
  symbolDiamond,
  symbolSquare,
  symbolStar,
  symbolTriangle,
  symbolWye,
} from "d3-shape";
import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import type { Role } from "./role.ts";
import { rounded } from "./rounded.ts";

/** Shapes of marks; each can be told from the others without colour. */
export const MARKS = [
  "disc",
  "ring",
  "square",
  "open-square",
  "diamond",
  "open-diamond",
  "triangle",
  "open-triangle",
  "plus",
  "star",
  "wye",
  "cross",
  "up",
  "down",
  "dash",
] as const;

/** See {@link MARKS}. */
export type Mark = (typeof MARKS)[number];

const AREA = 46;
const SHAPES = {
  disc: [symbolCircle, true],
  ring: [symbolCircle, false],
  square: [symbolSquare, true],
  "open-square": [symbolSquare, false],
  diamond: [symbolDiamond, true],
  "open-diamond": [symbolDiamond, false],
  triangle: [symbolTriangle, true],
  "open-triangle": [symbolTriangle, false],
  plus: [symbolCross, true],
  star: [symbolStar, true],
  wye: [symbolWye, true],
} as const;

/** Half of the widest extent of a mark. */
export const MARK_REACH = 6;

/** A mark at a place, smaller where it is one of many. Open ones are filled with paper, so that lines do not run through them. */
export function mark(x: number, y: number, kind: Mark, role: Role = "ink", scale = 1): DrawingElement {
  switch (kind) {
    case "cross":
      return strokes(role, [
        [x - 4 * scale, y - 4 * scale, x + 4 * scale, y + 4 * scale],
        [x - 4 * scale, y + 4 * scale, x + 4 * scale, y - 4 * scale],
      ]);
    case "dash":
      return strokes(role, [[x - 6, y, x + 6, y]]);
    case "up":
      return path(`M${at(x, y - 5)}L${at(x + 5, y + 4)}L${at(x - 5, y + 4)}Z`, role, true);
    case "down":
      return path(`M${at(x, y + 5)}L${at(x + 5, y - 4)}L${at(x - 5, y - 4)}Z`, role, true);
    default: {
      const [shape, full] = SHAPES[kind];
      const drawn = symbol(shape, AREA * scale * scale).digits(2)() ?? "";
      return path(drawn, role, full, `translate(${at(x, y)})`, scale);
    }
  }
}

const at = (x: number, y: number) => `${rounded(x)} ${rounded(y)}`;

function path(d: string, role: Role, full: boolean, transform?: string, scale = 1): DrawingElement {
  return element("path", {
    d,
    transform,
    fill: full ? role : "paper",
    stroke: role,
    "stroke-width": full ? 1 : scale < 1 ? 1.2 : 1.8,
  });
}

function strokes(role: Role, lines: readonly (readonly [number, number, number, number])[]): DrawingElement {
  const d = lines.map(([x1, y1, x2, y2]) => `M${at(x1, y1)}L${at(x2, y2)}`).join("");
  return element("path", { d, fill: "none", stroke: role, "stroke-width": 2.2, "stroke-linecap": "round" });
}
