import type { Run, Text } from "./document.ts";

/** Words out of a campaign's files. */
export function user(text: string): Run {
  return { text, tone: "user" };
}

/** Text put together from strings and runs. */
export function line(...parts: readonly (string | Run | readonly Run[])[]): Run[] {
  return parts.flatMap((part) => (typeof part === "string" ? [{ text: part }] : "text" in part ? [part] : part));
}

/** The runs of a text. */
export function runsOf(text: Text): readonly Run[] {
  return typeof text === "string" ? [{ text }] : text;
}

/** A text's words alone. */
export function plainText(text: Text): string {
  return typeof text === "string" ? text : text.map((run) => run.text).join("");
}

/** A symbol and what stands at its foot: `Ω_cone-5`, `k_vol,cone-5`, `S_100x100/2`. */
const FOOT = /(?<=[\p{L}\p{M}])_([\p{L}\p{N}](?:[\p{L}\p{N}_.,/-]*[\p{L}\p{N}])?)/gu;

/** A formula or symbol as it is printed: what follows an underscore stands at the foot of the letter before it. */
export function typeset(formula: string): Run[] {
  const runs: Run[] = [];
  let end = 0;
  for (const match of formula.matchAll(FOOT)) {
    if (match.index > end) runs.push({ text: formula.slice(end, match.index) });
    runs.push({ text: match[1]!, tone: "sub" });
    end = match.index + match[0].length;
  }
  if (end < formula.length || runs.length === 0) runs.push({ text: formula.slice(end) });
  return runs;
}

/** How a character is named where it cannot be shown: `U+202E`. */
export function codePointName(character: string): string {
  return `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")}`;
}

/**
 * Text made harmless and kept whole: controls, invisible characters, lone surrogates and marks that would turn the
 * direction of what stands around them are written by their numbers, `⟨U+202E⟩`; a line break becomes `↵`.
 */
export function harmless(text: string): string {
  return text
    .replace(/\r\n|[\n\r\u2028\u2029]/g, " ↵ ")
    .replace(UNSEEN, (character) => `⟨${codePointName(character)}⟩`);
}

/** All but U+200C and U+200D, which join letters, and the variation selectors. */
const UNSEEN =
  /\u034F|[\p{Cc}\p{Cs}\p{Co}\u00AD\u061C\u180E\u200B\u200E\u200F\u202A-\u202E\u2060-\u206F\uFEFF\uFFF9-\uFFFB\uFFFE\uFFFF\u{E0000}-\u{E007F}]/gu;
