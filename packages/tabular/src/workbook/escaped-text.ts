/**
 * The escapes of workbook texts (ECMA-376 part 1, 22.9.2.19): a character that XML cannot carry is written `_xHHHH_`, and what
 * only looks like such an escape has its own underscore escaped.
 */
export function escapedText(text: string): string {
  return (
    text
      .replace(/_(?=x[0-9A-Fa-f]{4}_)/g, "_x005F_")
      // biome-ignore lint/suspicious/noControlCharactersInRegex: such characters are what is looked for
      .replace(/[\u0000-\u0008\u000b-\u001f\ufffe\uffff]/g, (character) => {
        return `_x${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}_`;
      })
  );
}

/** The text that {@link escapedText} wrote, or another program. */
export function unescapedText(text: string): string {
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
}
