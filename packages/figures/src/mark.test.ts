import { expect, test } from "vitest";
import { MARKS, mark } from "./mark.ts";

test("every mark can be told from every other without its colour: by its outline or by being open", () => {
  const looks = MARKS.map((kind) => {
    const { attributes } = mark(0, 0, kind);
    return `${attributes["d"]} ${attributes["fill"] === "paper" ? "open" : "full"}`;
  });
  expect(new Set(looks).size).toBe(MARKS.length);
});

test("marks lie about their place and reach no farther than a few pixels", () => {
  for (const kind of MARKS) {
    const { attributes } = mark(0, 0, kind);
    const numbers = [...attributes["d"]!.matchAll(/-?\d+(?:\.\d+)?/g)].map(Number);
    expect(Math.max(...numbers.map(Math.abs))).toBeLessThanOrEqual(8);
  }
});

test("a mark is where it should be", () => {
  expect(mark(12.345, 6, "disc").attributes["transform"]).toBe("translate(12.35 6)");
  expect(mark(10, 20, "cross").attributes["d"]).toBe("M6 16L14 24M6 24L14 16");
});
