import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import { label, labelWidth, SMALL_SIZE } from "./label.ts";
import { type Mark, mark } from "./mark.ts";
import type { Role } from "./role.ts";

/** One entry: a sign and what it stands for. */
export interface LegendEntry {
  readonly text: string;
  readonly sign:
    | { readonly mark: Mark; readonly role?: Role }
    | "line"
    | "thick-line"
    | "dashed"
    | "band"
    | "ellipse"
    | "interval"
    | "field"
    | "solid-bar"
    | "open-bar";
  readonly role?: Role;
}

/** A legend with the height that it takes. */
export interface Legend {
  readonly drawn: readonly DrawingElement[];
  readonly height: number;
}

const LINE = 18;
const SIGN = 24;
const GAP = 18;

/** Entries one after the other, in as many lines as they need. (left, top) is the upper corner. */
export function legend(left: number, top: number, width: number, entries: readonly LegendEntry[]): Legend {
  const drawn: DrawingElement[] = [];
  let x = 0;
  let row = 0;
  for (const entry of entries) {
    const room = width - SIGN;
    const own = SIGN + labelWidth(entry.text, { size: SMALL_SIZE, room });
    if (x > 0 && x + own > width) {
      x = 0;
      row++;
    }
    const y = top + row * LINE + LINE / 2;
    drawn.push(
      ...sign(left + x + 8, y, entry),
      label(left + x + SIGN - 2, y + 4, entry.text, { size: SMALL_SIZE, room }),
    );
    x += own + GAP;
  }
  return { drawn, height: entries.length === 0 ? 0 : (row + 1) * LINE };
}

function sign(x: number, y: number, { sign: kind, role = "ink" }: LegendEntry): DrawingElement[] {
  if (typeof kind === "object") return [mark(x, y, kind.mark, kind.role)];
  const stroke = (attributes: Record<string, string | number>) =>
    element("line", { x1: x - 8, x2: x + 8, y1: y, y2: y, stroke: role, ...attributes });
  const rect = (attributes: Record<string, string | number>) =>
    element("rect", { x: x - 8, y: y - 5, width: 16, height: 10, ...attributes });
  switch (kind) {
    case "line":
      return [stroke({ "stroke-width": 1.5 })];
    case "thick-line":
      return [stroke({ "stroke-width": 3 })];
    case "dashed":
      return [stroke({ "stroke-width": 1.2, "stroke-dasharray": "5 3" })];
    case "band":
      return [
        rect({ fill: "grid", "fill-opacity": "0.45", stroke: "muted", "stroke-width": 1, "stroke-dasharray": "3 3" }),
      ];
    case "ellipse":
      return [
        element("ellipse", {
          cx: x,
          cy: y,
          rx: 8,
          ry: 4,
          fill: "none",
          stroke: "ink",
          "stroke-width": 1,
          "stroke-dasharray": "2 2",
        }),
      ];
    case "interval":
      return [
        element("path", {
          d: `M${x - 4} ${y - 6}H${x + 4}M${x - 4} ${y + 6}H${x + 4}M${x} ${y - 6}V${y + 6}`,
          fill: "none",
          stroke: role,
          "stroke-width": 1.2,
        }),
      ];
    case "field":
      return [rect({ fill: "grid", "fill-opacity": "0.35", stroke: "ink", "stroke-width": 1.4 })];
    case "solid-bar":
      return [rect({ fill: role })];
    case "open-bar":
      return [rect({ fill: "paper", stroke: role, "stroke-width": 1.4 })];
  }
}
