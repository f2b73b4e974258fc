import { describe, expect, test } from "vitest";
import { READABLE_ROLES, ROLES } from "./role.ts";
import { COLOURS, THEMES } from "./theme.ts";

/** Relative luminance of `#rrggbb` (WCAG 2.2, "relative luminance"). */
function luminance(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

/** Contrast ratio (WCAG 2.2, "contrast ratio"): (L1 + 0.05)/(L2 + 0.05), the lighter over the darker. */
function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high! + 0.05) / (low! + 0.05);
}

/** What lies under text in a band: grid at 45 % over paper. */
function tinted(paper: string, grid: string): string {
  const part = (at: number) => {
    const [below, above] = [paper, grid].map((colour) => Number.parseInt(colour.slice(at, at + 2), 16));
    return Math.round(below! + 0.45 * (above! - below!))
      .toString(16)
      .padStart(2, "0");
  };
  return `#${part(1)}${part(3)}${part(5)}`;
}

test("the measure gives 21 for black on white, and 4.54 for the grey #767676 on it", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 9);
  expect(contrast("#767676", "#ffffff")).toBeCloseTo(4.54, 2);
});

describe.each(THEMES)("the theme %s", (theme) => {
  const colours = COLOURS[theme];

  // WCAG 2.2, 1.4.3 (text, AA): 4.5:1; 1.4.11 (graphics): 3:1, which 4.5 includes
  test.each(READABLE_ROLES)("sets %s off from paper by 4.5:1 for text and marks, also within a band", (role) => {
    expect(contrast(colours[role], colours.paper)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(colours[role], tinted(colours.paper, colours.grid))).toBeGreaterThanOrEqual(
      role === "ink" || role === "muted" ? 4.5 : 3,
    );
  });

  test("gives every role a colour of six digits", () => {
    for (const role of ROLES) expect(colours[role]).toMatch(/^#[0-9a-f]{6}$/);
    expect(new Set(Object.values(colours)).size).toBe(ROLES.length);
  });
});

test("in print the two channels can be told apart without colour", () => {
  expect(contrast(COLOURS.print["channel-1"], COLOURS.print["channel-2"])).toBeGreaterThan(2);
});
