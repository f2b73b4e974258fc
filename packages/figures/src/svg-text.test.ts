import { describe, expect, test } from "vitest";
import { element, group } from "./element.ts";
import type { Figure } from "./figure.ts";
import { label } from "./label.ts";
import { svgText } from "./svg-text.ts";
import { COLOURS, THEMES } from "./theme.ts";

const hostile = `</text><script>alert("1")</script>&amp; ]]> "' \u202Eback\u0000`;

const figure = (text: string, id = "sample"): Figure => ({
  id,
  title: text,
  description: `about ${text}`,
  width: 120,
  height: 40.505,
  root: group([label(10, 20, text), element("line", { x1: 0, x2: 9.999, stroke: "grid" })], text),
});

/** Whether a text is well formed as far as this writer goes: tags in pairs, attributes quoted, no bare `<` or `&`. */
function wellFormed(svg: string): boolean {
  const open: string[] = [];
  const rest = svg.replace(
    /<(\/?)([a-z]+)((?: [\w:-]+="[^"<>]*")*)(\/?)>/gi,
    (_, end: string, name: string, __, own: string) => {
      if (end) {
        if (open.pop() !== name) open.push("wrong");
      } else if (!own) open.push(name);
      return "";
    },
  );
  return open.length === 0 && !/[<>]/.test(rest) && !/&(?!amp;|lt;|gt;|quot;)/.test(svg);
}

describe("a figure as SVG", () => {
  test("names itself to assistive technology with its title and its description", () => {
    const svg = svgText(figure("A field"), "light");
    expect(svg).toMatch(
      /^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="120" height="40\.51" viewBox="0 0 120 40\.51" role="img"/,
    );
    expect(svg).toContain('aria-labelledby="sample-title sample-description"');
    expect(svg).toContain('<title id="sample-title">A field</title><desc id="sample-description">about A field</desc>');
    expect(svg.endsWith("</svg>\n")).toBe(true);
  });

  test.each(THEMES)("is painted with the colours of the theme %s alone", (theme) => {
    const svg = svgText(figure("x"), theme);
    const used = [...svg.matchAll(/(?:fill|stroke)="([^"]+)"/g)].map(([, colour]) => colour!);
    expect(used.length).toBeGreaterThan(2);
    for (const colour of used) expect(Object.values(COLOURS[theme])).toContain(colour);
  });

  test("holds nothing that a strict content security policy would block, nor a colour that a PDF would lose", () => {
    const svg = svgText(figure(hostile), "light");
    expect(svg).not.toMatch(
      /<(style|script|foreignObject|image|use|a)\b|\b(style|class|on\w+|href)=|currentColor|url\(|var\(/i,
    );
  });

  test("escapes whatever a text holds, and shows what it must not hold", () => {
    const svg = svgText(figure(hostile), "light");
    expect(wellFormed(svg)).toBe(true);
    expect(svg).toContain("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;&amp;amp;");
    expect(svg).toContain("�back�");
  });

  test("the witness of well-formedness sees what is not", () => {
    for (const broken of ["<svg><b></svg>", "<svg>&</svg>", '<svg a="<"/>', "<svg>a < b</svg>"])
      expect(wellFormed(broken)).toBe(false);
  });

  test("several stand in one document, each with ids of its own", () => {
    const ids = ["", "page-2-"].flatMap((idPrefix) =>
      [...svgText(figure("x", "a b/ü"), "light", { idPrefix }).matchAll(/ id="([^"]+)"/g)].map(([, id]) => id!),
    );
    expect(new Set(ids).size).toBe(4);
    for (const id of ids) expect(id).toMatch(/^[A-Za-z][A-Za-z0-9_.-]*$/);
  });

  test("refuses a colour in place of a role", () => {
    const painted = { ...figure("x"), root: element("rect", { fill: "#ff0000" }) };
    expect(() => svgText(painted, "light")).toThrow("a drawing is painted with roles");
  });
});
