import { expect, test } from "vitest";
import { plainText } from "./plain-text.ts";

test("ordinary text of any script stays as it is", () => {
  const text = "Ω of 10×10, עברית, 中文, é́, 🙂";
  expect(plainText(text)).toBe(text);
});

test("what XML forbids and what turns the direction of text is shown as a replacement, not dropped", () => {
  expect(plainText("a\u0000b\u001bc\uD800d\u202Ee\u2066f\uFFFEg")).toBe("a�b�c�d�e�f�g");
});

test("line breaks and tabs become spaces", () => {
  expect(plainText("a\tb\r\nc")).toBe("a b  c");
});
