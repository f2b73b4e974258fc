import { describe, expect, test } from "vitest";
import { pageOn } from "./page.ts";

const stream = (more: { isTTY?: boolean; columns?: number } = {}) => {
  const texts: string[] = [];
  return { texts, write: (text: string) => texts.push(text), ...more };
};

describe("a page", () => {
  test("is coloured on a terminal alone, and not where NO_COLOR or a dumb terminal say otherwise", () => {
    const red = (more: { isTTY?: boolean }, env: Record<string, string>) => pageOn(stream(more), env).ink.red("x");
    expect(red({ isTTY: true }, {})).toBe("\u001b[31mx\u001b[39m");
    expect(red({ isTTY: true }, { NO_COLOR: "" })).toBe("\u001b[31mx\u001b[39m");
    expect(red({ isTTY: true }, { NO_COLOR: "1" })).toBe("x");
    expect(red({ isTTY: true }, { TERM: "dumb" })).toBe("x");
    expect(red({}, {})).toBe("x");
    expect(red({}, { FORCE_COLOR: "1" })).toBe("x");
  });

  test("is as wide as the terminal, else as COLUMNS says, else 80 columns, and between 40 and 120", () => {
    expect(pageOn(stream({ columns: 100 }), { COLUMNS: "60" }).width).toBe(100);
    expect(pageOn(stream(), { COLUMNS: "60" }).width).toBe(60);
    expect(pageOn(stream(), { COLUMNS: "wide" }).width).toBe(80);
    expect(pageOn(stream(), {}).width).toBe(80);
    expect(pageOn(stream({ columns: 300 }), {}).width).toBe(120);
    expect(pageOn(stream({ columns: 10 }), {}).width).toBe(40);
  });

  test("ends every line, and writes nothing where there is nothing to say", () => {
    const target = stream();
    const page = pageOn(target, {});
    page.print(["a", "b"]);
    page.print([]);
    expect(target.texts).toEqual(["a\nb\n"]);
  });
});
