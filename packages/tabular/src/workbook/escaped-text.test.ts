import fc from "fast-check";
import { expect, test } from "vitest";
import { escapedText, unescapedText } from "./escaped-text.ts";

test.each([
  ["a\rb", "a_x000D_b"],
  ["_x000D_", "_x005F_x000D_"],
  ["\u0000", "_x0000_"],
  ["tab\tand\nbreak", "tab\tand\nbreak"],
  ["_x00_", "_x00_"],
])("%j is written %j", (text, escaped) => {
  expect(escapedText(text)).toBe(escaped);
  expect(unescapedText(escaped)).toBe(text);
});

test("every text comes back, and what is written is what XML can carry", () => {
  fc.assert(
    fc.property(
      fc.string({
        unit: fc.oneof(
          fc.constantFrom("_", "x", "0", "D", "\r", "\u0001", "\uffff"),
          fc.string({ minLength: 1, maxLength: 1 }),
        ),
      }),
      (text) => {
        const escaped = escapedText(text);
        expect(unescapedText(escaped)).toBe(text);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: such characters are what is looked for
        expect(escaped).not.toMatch(/[\u0000-\u0008\u000b-\u001f\ufffe\uffff]/);
      },
    ),
  );
});
