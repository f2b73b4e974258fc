import type { DrawingElement } from "@alcedo-dosimetry/figures";
import { describe, expect, test } from "vitest";
import { FONTS } from "../testing/fonts.ts";
import { readPdf } from "../testing/read-pdf.ts";
import { Canvas } from "./canvas.ts";
import { drawElement } from "./drawing.ts";
import { fontBook } from "./font-book.ts";
import { TaggedPdf } from "./tagged-pdf.ts";

const element = (
  name: string,
  attributes: Record<string, string> = {},
  children: DrawingElement["children"] = [],
): DrawingElement => ({ name, attributes, children });

/** The bytes of a file with something drawn on a page of its own. */
function drawn(own: DrawingElement): Uint8Array {
  const margins = { left: 0, right: 0, top: 0, bottom: 0 };
  const pdf = new TaggedPdf({ title: "t", subject: "s", keywords: "k", creator: "c" }, margins);
  const canvas = new Canvas(pdf, fontBook(pdf, FONTS));
  const root = pdf.struct("Document");
  pdf.addStructure(root);
  canvas.content("Figure", canvas.element("Figure", root, { alt: "a figure" }), () => {
    drawElement(canvas, own);
  });
  root.end();
  return pdf.bytes();
}

describe("a figure in a PDF", () => {
  test("keeps its words, upright or turned, and those of elements within others", async () => {
    const bytes = drawn(
      element("g", { fill: "muted", transform: "translate(200 200)" }, [
        element("text", { x: "10", y: "20", "text-anchor": "middle" }, [
          element("title", {}, ["not drawn"]),
          "Ω of 10×10",
        ]),
        element("g", { transform: "translate(5 5)" }, [
          element("text", { x: "1", y: "2", transform: "rotate(-90 1 2)" }, ["χ² axis"]),
        ]),
      ]),
    );
    const { pages } = await readPdf(bytes);
    expect(pages[0]).toContain("Ω of 10×10");
    expect(pages[0]).toContain("χ² axis");
    expect(pages[0]).not.toContain("not drawn");
  });

  test.each([
    ["line", { x1: "0", y1: "0", x2: "9", y2: "9", stroke: "ink", "stroke-dasharray": "2 1" }],
    ["rect", { x: "0", y: "0", width: "5", height: "5", rx: "1", fill: "grid", stroke: "ink" }],
    ["circle", { cx: "5", cy: "5", r: "2", fill: "channel-1" }],
    ["ellipse", { cx: "5", cy: "5", rx: "2", ry: "1", fill: "none", stroke: "attention" }],
    ["path", { d: "M 0 0 L 5 5 Z", fill: "channel-2", "fill-opacity": "0.5" }],
    ["polygon", { points: "0,0 5,0 5,5", fill: "ink" }],
    ["polyline", { points: "0 0 5 0 5 5", fill: "none", stroke: "ink" }],
  ])("draws <%s>", (name, attributes) => {
    // something more stands in the file than where nothing is painted
    const nothing = drawn(element(name, { ...attributes, fill: "none", stroke: "none" })).length;
    expect(drawn(element(name, attributes)).length).toBeGreaterThan(nothing);
  });

  test.each([
    ["an element", element("image", { x: "1" }), "<image>, which the PDF cannot draw"],
    ["an attribute", element("rect", { filter: "url(#x)" }), "the attribute filter, which the PDF cannot draw"],
    ["a colour that is no role", element("rect", { fill: "red" }), "painted with red, which is no role"],
    ["a turn by an odd angle", element("g", { transform: "rotate(17)" }), "turned by 17°"],
    ["a skew", element("g", { transform: "skewX(3)" }), "moved by skewX"],
  ])("refuses %s that it does not know, so that nothing vanishes", (_, own, message) => {
    expect(() => drawn(own)).toThrow(message);
  });
});
