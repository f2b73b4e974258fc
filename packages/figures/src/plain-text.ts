/**
 * Text that may come from anywhere, fit to stand in a drawing: what XML forbids, and marks that would turn the direction
 * of the text around them, become U+FFFD, so that nothing is dropped unseen; line breaks and tabs become spaces.
 */
export function plainText(text: string): string {
  return text.replace(/[\t\n\r]/g, " ").replace(UNFIT, "\uFFFD");
}

/** Controls, lone surrogates, explicit directions (U+202A–202E, U+2066–2069) and non-characters. */
const UNFIT = /[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069\uFFFE\uFFFF]/gu;
