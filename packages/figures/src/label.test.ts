import { describe, expect, test } from "vitest";
import { label, labelWidth } from "./label.ts";

describe("a label", () => {
  test("keeps its whole text as a title where it is shortened", () => {
    const long = "a name of a condition that nobody would write but somebody did";
    const { children } = label(0, 0, long, { room: 100 });
    expect(children).toHaveLength(2);
    expect(children[0]).toMatchObject({ name: "title", children: [long] });
    expect(children[1]).toMatch(/^a name.*…$/);
  });

  test("is whole, and has no title, where there is room", () => {
    expect(label(0, 0, "short", { room: 100 }).children).toEqual(["short"]);
  });

  test("keeps words from right to left in their own place", () => {
    expect(label(0, 0, "עברית 12").attributes["unicode-bidi"]).toBe("isolate");
    expect(label(0, 0, "plain").attributes["unicode-bidi"]).toBeUndefined();
  });

  test("is never wider than its room", () => {
    expect(labelWidth("W".repeat(50), { room: 80 })).toBe(80);
    expect(labelWidth("iii")).toBeLessThan(labelWidth("WWW"));
  });
});
