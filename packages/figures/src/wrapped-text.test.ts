import { expect, test } from "vitest";
import { textWidth } from "./text-width.ts";
import { wrapped } from "./wrapped-text.ts";

test("lines break between words, keep every word, and are as wide as allowed at most", () => {
  const text = "Only the length of fibre in the beam is known, and it is to scale.";
  const lines = wrapped(text, 150, 11);
  expect(lines.length).toBeGreaterThan(2);
  expect(lines.join(" ")).toBe(text);
  for (const line of lines) expect(textWidth(line, 11)).toBeLessThanOrEqual(150);
});

test("a word that is too wide by itself has a line of its own", () => {
  expect(wrapped("a incomprehensibilities b", 40, 11)).toEqual(["a", "incomprehensibilities", "b"]);
});
