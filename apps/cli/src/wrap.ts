import { textWidth } from "./text-width.ts";

/** Where a line may end: at a blank that does not divide a number from its sign, unit or the name it counts, nor stand before an operator. */
const BREAKS = /(?<![<>=]) (?!%|[·−+/=] |(?:mm|nC|Gy|MV|MeV|MU)\b|\d+(?:,|$))/;

/**
 * A text in lines of at most so many columns, broken at blanks. A word that is longer than a line (a path, a digest) stays whole,
 * so that it can be copied.
 *
 * @param hang blanks before every line but the first
 */
export function wrap(text: string, width: number, hang = 0): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(BREAKS)) {
    const begun = line.trim() !== "";
    if (begun && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = " ".repeat(hang) + word;
    } else line += (begun ? " " : "") + word;
  }
  return [...lines, line];
}

/** A text in lines behind a first prefix, the lines after the first behind blanks or another prefix of the same width. */
export function wrapBehind(prefix: string, text: string, width: number, rest?: string): string[] {
  const margin = textWidth(prefix);
  const next = rest ?? " ".repeat(margin);
  return wrap(text, Math.max(20, width - margin)).map((line, i) => (i === 0 ? prefix : next) + line);
}
