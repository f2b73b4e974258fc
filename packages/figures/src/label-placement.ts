import { around, type Box, overlap, within } from "./box.ts";
import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import { label, labelWidth, SMALL_SIZE } from "./label.ts";
import { MARK_REACH } from "./mark.ts";

/** A name that wants to stand beside its mark. */
export interface MarkName {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  /** Half the height of an upright bar through the mark, over which the name had better stand. */
  readonly bar?: number;
}

/** A name with its place, or none where there was no room. */
export interface PlacedName {
  readonly name: MarkName;
  readonly box: Box | undefined;
  /** Whether a line must lead from the mark to it. */
  readonly led: boolean;
}

const HEIGHT = 14;
/** Distances between mark and name, the near ones first: beyond the second a thin line leads to the mark. */
const DISTANCES = [0, 6, 16, 28, 42, 60];
const SETTING = { size: SMALL_SIZE, role: "muted", room: 150 } as const;

/**
 * Finds each name a place beside its mark where it covers no mark, no other name, nothing in the way and stays within
 * bounds; one after the other, the nearest free place.
 */
export function placeNames(names: readonly MarkName[], bounds: Box, obstacles: readonly Box[] = []): PlacedName[] {
  const taken = [...obstacles, ...names.map(({ x, y }) => around(x, y, MARK_REACH + 1))];
  return names.map((name) => {
    const width = labelWidth(name.text, SETTING);
    const found = candidates(name, width).find(
      ({ box }) => within(box, bounds) && !taken.some((other) => overlap(box, other)),
    );
    if (found) taken.push(found.box);
    return { name, box: found?.box, led: found?.led ?? false };
  });
}

function candidates({ x, y, bar = 0 }: MarkName, width: number): { readonly box: Box; readonly led: boolean }[] {
  const reach = MARK_REACH + 2;
  const middle = x - width / 2;
  const at = (left: number, top: number, led: boolean) => ({ box: { left, top, width, height: HEIGHT }, led });
  // over or under a bar, then a line farther off
  const bars =
    bar > reach
      ? [0, 15, 30, 45].flatMap((farther) =>
          [middle, middle - width / 3, middle + width / 3].flatMap((left) => [
            at(left, y - bar - 3 - farther - HEIGHT, farther > 0),
            at(left, y + bar + 3 + farther, farther > 0),
          ]),
        )
      : [];
  const near = DISTANCES.flatMap((distance) => {
    const right = x + reach + distance;
    const left = x - reach - distance - width;
    const [above, beside, below] = [y - reach - distance - HEIGHT, y - HEIGHT / 2, y + reach + distance];
    const led = distance > 6;
    return [
      at(right, beside, led),
      at(right - reach, below, led),
      at(right - reach, above, led),
      at(left, beside, led),
      at(left + reach, above, led),
      at(left + reach, below, led),
      at(middle, above, led),
      at(middle, below, led),
    ];
  });
  return [...bars, ...near];
}

/** The names that found a place, and thin lines to the marks of those that stand off. */
export function namesDrawn(placed: readonly PlacedName[]): DrawingElement[] {
  return placed.flatMap(({ name, box, led }) => {
    if (!box) return [];
    const text = label(box.left, box.top + 11, name.text, SETTING);
    const end = nearest(name, box);
    const [dx, dy] = [end[0] - name.x, end[1] - name.y];
    const far = Math.sqrt(dx * dx + dy * dy);
    if (!led || far < MARK_REACH) return [text];
    const start = [name.x + (dx / far) * MARK_REACH, name.y + (dy / far) * MARK_REACH] as const;
    return [
      element("line", { x1: start[0], y1: start[1], x2: end[0], y2: end[1], stroke: "muted", "stroke-width": 0.6 }),
      text,
    ];
  });
}

/** The point of a box that is nearest to a mark. */
function nearest({ x, y }: MarkName, { left, top, width, height }: Box): [number, number] {
  return [Math.min(Math.max(x, left - 2), left + width + 2), Math.min(Math.max(y, top), top + height)];
}

/** What to say of names for which there was no room; undefined where there was. */
export function nameless(placed: readonly PlacedName[]): string | undefined {
  const without = placed.filter(({ box }) => box === undefined).map(({ name }) => name.text);
  return without.length > 0 ? `Without a name in the picture, for want of room: ${without.join(", ")}.` : undefined;
}
