import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { expect, it } from "vitest";
import { FONT_FILES, fontsFrom } from "./font-files.ts";

it("names fonts that are there: TrueType files, each its own", () => {
  const { resolve } = createRequire(import.meta.url);
  const fonts = fontsFrom((path) => new Uint8Array(readFileSync(resolve(path))));
  expect(Object.keys(fonts)).toEqual(Object.keys(FONT_FILES));
  const bytes = Object.values(fonts) as Uint8Array[];
  // OpenType, "Organization of an OpenType font": a TrueType font begins with 0x00010000
  for (const font of bytes) expect([...font.subarray(0, 4)]).toEqual([0, 1, 0, 0]);
  expect(new Set(bytes.map(({ length }) => length)).size).toBe(bytes.length);
});
