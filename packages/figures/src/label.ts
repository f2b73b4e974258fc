import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import { plainText } from "./plain-text.ts";
import type { Role } from "./role.ts";
import { shortened, textWidth } from "./text-width.ts";

/** How a text is set. */
export interface Setting {
  readonly size?: number;
  readonly role?: Role;
  readonly anchor?: "start" | "middle" | "end";
  readonly weight?: "normal" | "bold";
  /** Upright by default; `up` reads from below, as the name of a vertical axis does. */
  readonly turned?: "up";
  /** The widest that it may be: beyond, it is shortened and keeps its whole text as a title. */
  readonly room?: number;
  readonly family?: "serif" | "mono";
}

const TEXT_SIZE = 12;

/** Size of text at axes and marks. */
export const SMALL_SIZE = 11;

const FAMILIES = {
  serif: "'Source Serif 4', Georgia, 'Times New Roman', serif",
  mono: "'IBM Plex Mono', 'DejaVu Sans Mono', Menlo, monospace",
} as const;

/** A line of text; (x, y) is on its baseline. */
export function label(x: number, y: number, text: string, setting: Setting = {}): DrawingElement {
  const { size = TEXT_SIZE, role = "ink", anchor = "start", weight, turned, room, family } = setting;
  const shown = room === undefined ? text : shortened(text, room, size);
  const whole = shown === text ? [] : [element("title", {}, [text])];
  return element(
    "text",
    {
      x,
      y,
      fill: role,
      "font-size": size,
      "text-anchor": anchor === "start" ? undefined : anchor,
      "font-weight": weight === "bold" ? "600" : undefined,
      "font-family": family && FAMILIES[family],
      transform: turned && `rotate(-90 ${Math.round(x * 100) / 100} ${Math.round(y * 100) / 100})`,
      // words from right to left keep to their own place
      "unicode-bidi": RIGHT_TO_LEFT.test(shown) ? "isolate" : undefined,
    },
    [...whole, plainText(shown)],
  );
}

const RIGHT_TO_LEFT = /[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFF]/u;

/** How wide a line of text can be as it is set. */
export function labelWidth(text: string, { size = TEXT_SIZE, room, weight, family }: Setting = {}): number {
  const set = textWidth(text, size) * (weight === "bold" ? 1.06 : 1) * (family === "mono" ? 1.05 : 1);
  return room === undefined ? set : Math.min(set, room);
}
