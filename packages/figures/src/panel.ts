import type { Axis } from "./axis.ts";
import { type Box, bottomOf, rightOf } from "./box.ts";
import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import { label, labelWidth, SMALL_SIZE } from "./label.ts";
import type { Role } from "./role.ts";

/** A field of a plot with its axes. */
export interface Panel {
  readonly box: Box;
  readonly x: Axis;
  readonly y: Axis;
  /** False where the panel below shows the same axis. Default true. */
  readonly namesX?: boolean;
  /** A value of y that is ruled more strongly, such as zero. */
  readonly level?: number;
  /** Roles of the axes' names, where they speak of a light channel. Default ink. */
  readonly roles?: { readonly x?: Role; readonly y?: Role };
}

/** How much room the texts of a vertical axis take to its left, its name included. */
export function roomForY(y: Pick<Axis, "ticks">): number {
  const widest = Math.max(0, ...y.ticks.map(({ text }) => labelWidth(text, { size: SMALL_SIZE })));
  return widest + 30;
}

/** Room below a panel for the texts of its horizontal axis. */
export const ROOM_FOR_X = 40;

/** Grid, axes, ticks and names of a panel: what goes under the marks. */
export function panelGround({ box, x, y, namesX = true, level, roles = {} }: Panel): DrawingElement[] {
  const bottom = bottomOf(box);
  const small = { size: SMALL_SIZE, role: "muted" } as const;
  const rule = (attributes: Record<string, number>, strong: boolean) =>
    element("line", { ...attributes, stroke: strong ? "ink" : "grid", "stroke-width": 1 });
  const widest = Math.max(0, ...y.ticks.map(({ text }) => labelWidth(text, small)));
  return [
    ...y.ticks.map(({ value }) => rule({ x1: box.left, x2: rightOf(box), y1: y.at(value), y2: y.at(value) }, false)),
    ...(level === undefined ? [] : [rule({ x1: box.left, x2: rightOf(box), y1: y.at(level), y2: y.at(level) }, true)]),
    ...x.ticks.map(({ value }) => rule({ x1: x.at(value), x2: x.at(value), y1: bottom, y2: bottom + 4 }, true)),
    rule({ x1: box.left, x2: rightOf(box), y1: bottom, y2: bottom }, true),
    ...y.ticks.map(({ value, text }) => label(box.left - 6, y.at(value) + 4, text, { ...small, anchor: "end" })),
    label(box.left - widest - 14, box.top + box.height / 2, y.name, {
      size: SMALL_SIZE,
      anchor: "middle",
      turned: "up",
      role: roles.y ?? "ink",
      room: box.height + 30,
    }),
    ...(namesX
      ? [
          ...x.ticks.map(({ value, text }) => label(x.at(value), bottom + 17, text, { ...small, anchor: "middle" })),
          label(box.left + box.width / 2, bottom + 35, x.name, {
            size: SMALL_SIZE,
            anchor: "middle",
            role: roles.x ?? "ink",
            room: box.width + 60,
          }),
        ]
      : []),
  ];
}
