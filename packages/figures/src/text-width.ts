import { plainText } from "./plain-text.ts";

/**
 * Widths in em, by kind of character, from above: those of the widest common sans-serif (DejaVu Sans), since nobody knows
 * which font a reader has. A label that fits by this measure fits.
 */
const KINDS: readonly (readonly [RegExp, number])[] = [
  [/^[\p{Mn}\p{Me}\p{Cf}]$/u, 0],
  [/^[ .,:;'’·|iIlj/\\]$/u, 0.35],
  [/^[ftr()[\]!°-]$/u, 0.42],
  [/^[mwMW@%‰—…]$/u, 1],
  [/^[\p{Lu}+−=<>×±≤≥≈~]$/u, 0.84],
  [/^[\p{Nd}\p{sc=Latin}]$/u, 0.65],
  [/^[\p{sc=Greek}\p{sc=Cyrillic}\p{P}\p{Sk}⌀⁰¹²³⁴⁵⁶⁷⁸⁹⁻]$/u, 0.75],
];

/** Whatever has no kind of its own (ideographs, pictures) is taken as a little wider than a square. */
const WIDEST = 1.15;

const known = new Map<string, number>();

/** How wide a text can be at most, in the unit of its size. An estimate: no font is asked. */
export function textWidth(text: string, size: number): number {
  let total = 0;
  for (const character of plainText(text)) {
    let width = known.get(character);
    if (width === undefined) {
      width = KINDS.find(([kind]) => kind.test(character))?.[1] ?? WIDEST;
      known.set(character, width);
    }
    total += width;
  }
  return total * size;
}

/** A text that fits into a width: itself, or its beginning with an ellipsis. */
export function shortened(text: string, width: number, size: number): string {
  if (textWidth(text, size) <= width) return text;
  const characters = [...text];
  let kept = characters.length;
  while (kept > 1 && textWidth(`${characters.slice(0, kept).join("")}…`, size) > width) kept--;
  return `${characters.slice(0, kept).join("").trimEnd()}…`;
}
