const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;

/**
 * The offset behind the closing quotation mark of a JSON text that opens at `start`, or the place and kind of what is wrong
 * in it. A loop, not one pattern: texts may be long, and a pattern's backtracking is not endless.
 */
export function stringEnd(text: string, start: number): { readonly offset: number; readonly fault?: string } {
  for (let i = start + 1; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 0x22) return { offset: i + 1 };
    if (code === 0x0a) return { offset: start, fault: "the text has no closing quotation mark on its line" };
    if (code < 0x20)
      return { offset: i, fault: "a control character stands in a text; write it as \\u and four digits" };
    if (code !== 0x5c) continue;
    ESCAPE.lastIndex = i;
    const length = ESCAPE.exec(text)?.[0].length;
    if (length === undefined) {
      return { offset: i, fault: "a backslash in a text is doubled, or begins an escape such as \\n" };
    }
    i += length - 1;
  }
  return { offset: start, fault: "the text has no closing quotation mark" };
}
