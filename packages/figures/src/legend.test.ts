import { expect, test } from "vitest";
import { type LegendEntry, legend } from "./legend.ts";

const entries: LegendEntry[] = (
  ["line", "thick-line", "dashed", "band", "ellipse", "interval", "field", "solid-bar", "open-bar"] as const
).map((sign) => ({ sign, text: `an entry that shows ${sign}` }));

test("entries go on in the next line where one is full, and the height says how many there are", () => {
  const wide = legend(0, 0, 5000, entries);
  const narrow = legend(0, 0, 400, entries);
  expect(wide.height).toBe(18);
  expect(narrow.height).toBe(18 * 5);
  const texts = narrow.drawn.filter(({ name }) => name === "text");
  expect(texts).toHaveLength(entries.length);
  expect(Math.max(...texts.map(({ attributes }) => Number(attributes["x"])))).toBeLessThan(400);
});

test("no entries, no height", () => {
  expect(legend(0, 0, 100, [])).toEqual({ drawn: [], height: 0 });
});
