import type { Standing } from "@alcedo-dosimetry/campaign";

/** Shape and word of each standing. */
const SHAPES: Readonly<Record<Standing, string>> = { sound: "●", untested: "○", stale: "◐", broken: "✕" };

/** A standing by shape and word: `● sound`. */
export function standingWords(standing: Standing): string {
  return `${SHAPES[standing]} ${standing}`;
}
