import type { Standing } from "@alcedo-dosimetry/campaign";
import type { Ink } from "./page.ts";

/** Shape and word of each standing; colour only says it once more. */
const MARKS: Readonly<
  Record<Standing, { readonly shape: string; readonly ink: (ink: Ink) => (text: string) => string }>
> = {
  sound: { shape: "●", ink: (ink) => ink.green },
  untested: { shape: "○", ink: (ink) => ink.yellow },
  stale: { shape: "◐", ink: (ink) => ink.yellow },
  broken: { shape: "✕", ink: (ink) => ink.red },
};

/** A standing by shape and word: `● sound`. */
export function standingMark(standing: Standing, ink: Ink): string {
  const { shape, ink: colour } = MARKS[standing];
  return colour(ink)(`${shape} ${standing}`);
}

/** Columns that the widest mark takes. */
export const MARK_WIDTH = Math.max(...Object.keys(MARKS).map((standing) => standing.length)) + 2;
