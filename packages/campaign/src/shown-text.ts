const LIMIT = 40;

/**
 * A text from a file, made safe to print inside a message: in double quotes, shortened to 40 characters, control characters,
 * marks that turn the writing direction, invisible characters and lone surrogates written as `\u{…}`. A file can
 * therefore neither colour nor rewrite the terminal on which its fault is shown.
 */
export function shown(text: string, limit = LIMIT): string {
  let out = "";
  let count = 0;
  for (const character of text) {
    if (count === limit) return `"${out}…"`;
    out += hidden(character.codePointAt(0)!) ? `\\u{${character.codePointAt(0)!.toString(16)}}` : character;
    count += 1;
  }
  return `"${out}"`;
}

/** Names from a file (a path, a column) inside running text: as {@link shown}, without the quotes where they are plain. */
export function shownName(name: string): string {
  return /^[\w./ -]{1,60}$/.test(name) && name.trim() === name ? name : shown(name, 60);
}

/** A value out of JSON, as short text: `the text "900"`, `900`, `a list`, `an object`. */
export function shownValue(value: unknown): string {
  if (typeof value === "string") return `the text ${shown(value)}`;
  if (Array.isArray(value)) return "a list";
  if (value === null) return "null";
  if (typeof value === "number" || typeof value === "boolean") return String(value);
  return value === undefined ? "absent" : "an object";
}

function hidden(code: number): boolean {
  return (
    code < 0x20 ||
    (code >= 0x7f && code <= 0xa0) ||
    code === 0xad ||
    (code >= 0x200b && code <= 0x200f) ||
    (code >= 0x2028 && code <= 0x202f) ||
    (code >= 0x2060 && code <= 0x206f) ||
    (code >= 0xd800 && code <= 0xdfff) ||
    code === 0xfeff ||
    (code >= 0xe0000 && code <= 0xe0fff)
  );
}
