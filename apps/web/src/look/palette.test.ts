import { readFileSync } from "node:fs";
import { COLOURS, ROLES } from "@alcedo-dosimetry/figures";
import { describe, expect, test } from "vitest";
import { contrast } from "./contrast.ts";
import { PAGE_THEMES, PAIRS, PALETTE, TOKENS } from "./palette.ts";

const css = readFileSync(new URL("tokens.css", import.meta.url), "utf8");

/** What `tokens.css` declares: both themes of each colour stand in one `light-dark()`. */
const declared = new Map(
  [...css.matchAll(/--([a-z0-9-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g)].map(
    ([, token, light, dark]) => [token!, { light: light!, dark: dark! }] as const,
  ),
);

test("the measure gives 21 for black on white, 1 for a colour on itself, and 4.54 for #767676 on white", () => {
  // WCAG 2.2: the ratio ranges from 1 to 21; #767676 is the darkest grey named in its techniques as just passing 4.5
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 9);
  expect(contrast("#1c2530", "#1c2530")).toBe(1);
  expect(contrast("#ffffff", "#767676")).toBeCloseTo(4.54, 2);
});

test("the measure refuses what is no colour of six digits", () => {
  expect(() => contrast("#fff", "#000000")).toThrow("#fff is no colour");
});

describe.each(PAGE_THEMES)("the theme %s", (theme) => {
  test.each(PAIRS)("sets $seen off from $on by $least:1 ($where)", ({ on, seen, least }) => {
    expect(contrast(PALETTE[theme][seen], PALETTE[theme][on])).toBeGreaterThanOrEqual(least);
  });

  test("has the colours of figures for its own, so that a picture lies on the page as if drawn there", () => {
    for (const role of ROLES) expect(PALETTE[theme][role]).toBe(COLOURS[theme][role]);
  });

  test("is what the style sheet declares, colour by colour", () => {
    for (const token of TOKENS) expect(declared.get(token)?.[theme], token).toBe(PALETTE[theme][token]);
    expect([...declared.keys()].sort()).toEqual([...TOKENS].sort());
  });

  test("names a table of contrasts in docs/look.md that is the one computed", () => {
    const page = readFileSync(new URL("../../../../docs/look.md", import.meta.url), "utf8");
    for (const seen of ["ink", "muted", "attention", "channel-1", "channel-2"] as const) {
      const figures = (["page", "paper", "well", "wash"] as const).map((on) =>
        contrast(PALETTE[theme][seen], PALETTE[theme][on]).toFixed(1),
      );
      expect(page).toContain(`| ${theme} | \`${seen}\` | ${figures.join(" | ")} |`);
    }
  });
});

test("the two channels differ from each other and from the accent in both themes, and nothing else borrows them", () => {
  for (const theme of PAGE_THEMES) {
    const { "channel-1": first, "channel-2": second, ...others } = PALETTE[theme];
    expect(first).not.toBe(second);
    for (const colour of Object.values(others)) expect([first, second]).not.toContain(colour);
  }
});
