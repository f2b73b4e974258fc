/** Marks that sit on the character before them (the circumflex of q̂) and take no column of their own. */
const MARKS = /[\p{Mn}\p{Me}\p{Cf}]/u;
/** Characters of East Asian scripts and pictographs, which take two columns. */
const WIDE =
  /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe4f\uff00-\uff60\uffe0-\uffe6]|\p{Emoji_Presentation}/u;

/** Columns that a text without control characters takes on a terminal. */
export function textWidth(text: string): number {
  let width = 0;
  for (const character of text) width += MARKS.test(character) ? 0 : WIDE.test(character) ? 2 : 1;
  return width;
}

/** A text filled with blanks to a width, at its end or (`right`) before its beginning. */
export function padded(text: string, width: number, align: "left" | "right" = "left"): string {
  const blanks = " ".repeat(Math.max(0, width - textWidth(text)));
  return align === "right" ? blanks + text : text + blanks;
}
