import { COLOURS, type DrawingElement } from "@alcedo-dosimetry/figures";
import type { Canvas } from "./canvas.ts";
import type { Face } from "./font-book.ts";
import { type Line, paragraph, setLines } from "./paragraph.ts";

/** What an element takes over from those around it. */
type Inherited = Readonly<Record<string, string>>;

const HANDED_DOWN = new Set([
  "fill",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linecap",
  "stroke-linejoin",
  "fill-opacity",
  "stroke-opacity",
  "font-size",
  "font-weight",
  "font-family",
  "text-anchor",
]);

/** Attributes of place and of what needs no drawing; any other that is not known is a fault, for it would be lost unseen. */
const KNOWN = new Set([
  ...HANDED_DOWN,
  ..."x y x1 y1 x2 y2 width height cx cy r rx ry d points transform opacity unicode-bidi direction id role".split(" "),
]);

/**
 * Draws a figure's elements: the subset of SVG that drawings are made of. The coordinates are those of the figure; the
 * caller has moved and scaled the page.
 *
 * @throws Error for an element or attribute that is not known: nothing of a figure may vanish in silence.
 */
export function drawElement(canvas: Canvas, own: DrawingElement, above: Inherited = {}): void {
  const { name, attributes, children } = own;
  if (name === "title" || name === "desc") return;
  const unknown = Object.keys(attributes).find((key) => !KNOWN.has(key) && !key.startsWith("aria-"));
  if (unknown !== undefined)
    throw new Error(`a figure's <${name}> has the attribute ${unknown}, which the PDF cannot draw`);
  const inherited: Inherited = {
    ...above,
    ...Object.fromEntries(Object.entries(attributes).filter(([key]) => HANDED_DOWN.has(key))),
  };
  const { pdf } = canvas;
  const { transform, opacity } = attributes;
  const saved = transform !== undefined || opacity !== undefined;
  if (saved) pdf.save();
  if (transform !== undefined) applyTransform(canvas, transform);
  if (opacity !== undefined) pdf.opacity(Number(opacity));
  if (name === "text") drawText(canvas, own, inherited);
  else if (name === "g") {
    for (const child of children) if (typeof child !== "string") drawElement(canvas, child, inherited);
  } else drawShape(canvas, own, inherited);
  if (saved) pdf.restore();
}

const numberOf = (attributes: Readonly<Record<string, string>>, key: string) => Number(attributes[key] ?? 0);

function outline(canvas: Canvas, { name, attributes }: DrawingElement): void {
  const { pdf } = canvas;
  const at = (key: string) => numberOf(attributes, key);
  switch (name) {
    case "rect":
      if (at("rx") > 0) pdf.roundedRect(at("x"), at("y"), at("width"), at("height"), at("rx"));
      else pdf.rect(at("x"), at("y"), at("width"), at("height"));
      return;
    case "circle":
      pdf.circle(at("cx"), at("cy"), at("r"));
      return;
    case "ellipse":
      pdf.ellipse(at("cx"), at("cy"), at("rx"), at("ry"));
      return;
    case "line":
      pdf.moveTo(at("x1"), at("y1")).lineTo(at("x2"), at("y2"));
      return;
    case "path":
      pdf.path(attributes["d"] ?? "");
      return;
    case "polygon":
    case "polyline": {
      const points = pointsOf(attributes["points"] ?? "");
      if (name === "polygon") pdf.polygon(...points);
      else
        for (const [i, [x, y]] of points.entries()) {
          if (i === 0) pdf.moveTo(x, y);
          else pdf.lineTo(x, y);
        }
      return;
    }
    default:
      throw new Error(`a figure holds <${name}>, which the PDF cannot draw`);
  }
}

function pointsOf(text: string): [number, number][] {
  const numbers = text
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  return Array.from({ length: numbers.length >> 1 }, (_, i) => [numbers[2 * i]!, numbers[2 * i + 1]!]);
}

function drawShape(canvas: Canvas, own: DrawingElement, style: Inherited): void {
  const fill = colourOf(style["fill"] ?? "ink");
  const stroke = colourOf(style["stroke"] ?? "none");
  if (fill === undefined && stroke === undefined) return;
  const { pdf } = canvas;
  pdf.save();
  if (stroke !== undefined) {
    pdf.lineWidth(Number(style["stroke-width"] ?? 1));
    const dashes = (style["stroke-dasharray"] ?? "none").split(/[\s,]+/).map(Number);
    if (dashes.every((dash) => dash > 0)) pdf.dash(dashes);
    pdf
      .lineCap((style["stroke-linecap"] ?? "butt") as "butt")
      .lineJoin((style["stroke-linejoin"] ?? "miter") as "miter");
    pdf.strokeColor(stroke, Number(style["stroke-opacity"] ?? 1));
  }
  if (fill !== undefined) pdf.fillColor(fill, Number(style["fill-opacity"] ?? 1));
  outline(canvas, own);
  if (fill !== undefined && stroke !== undefined && own.name !== "line") pdf.fillAndStroke(fill, stroke);
  else if (stroke !== undefined) pdf.stroke(stroke);
  else if (fill !== undefined) pdf.fill(fill);
  pdf.restore();
}

/** The colour of a role on paper; undefined for none. */
function colourOf(role: string): string | undefined {
  if (role === "none") return undefined;
  const colours: Readonly<Record<string, string>> = COLOURS.print;
  const colour = colours[role];
  if (colour === undefined) throw new Error(`a figure is painted with ${role}, which is no role`);
  return colour;
}

function drawText(canvas: Canvas, { attributes, children }: DrawingElement, style: Inherited): void {
  const words = children.filter((child) => typeof child === "string").join("");
  const size = Number(style["font-size"] ?? 12);
  const colour = colourOf(style["fill"] ?? "ink");
  if (colour === undefined || words === "") return;
  const text = paragraph(words, { face: faceOf(style), size, colour }, canvas.book);
  const line: Line = setLines(text, Number.POSITIVE_INFINITY, canvas.book)[0]!;
  const anchor = style["text-anchor"] ?? "start";
  const shift = anchor === "middle" ? line.width / 2 : anchor === "end" ? line.width : 0;
  canvas.line({ parts: line.parts, width: line.width }, numberOf(attributes, "x") - shift, numberOf(attributes, "y"));
}

function faceOf(style: Inherited): Face {
  const family = style["font-family"] ?? "";
  const bold = Number(style["font-weight"] ?? 400) >= 600;
  if (family.includes("Serif 4")) return "serif";
  if (family.includes("Mono")) return bold ? "monoBold" : "mono";
  return bold ? "sansBold" : "sans";
}

/** `translate(x y)`, `scale(s)` and `rotate(angle x y)` by quarter turns, one after the other. */
function applyTransform(canvas: Canvas, transform: string): void {
  for (const [, kind, inner] of transform.matchAll(/(\w+)\(([^)]*)\)/g)) {
    const [a = 0, b = 0, c = 0] = inner!
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    if (kind === "translate") canvas.pdf.transform(1, 0, 0, 1, a, b);
    else if (kind === "scale") canvas.pdf.transform(a, 0, 0, b === 0 ? a : b, 0, 0);
    else if (kind === "rotate") turn(canvas, a, b, c);
    else throw new Error(`a figure is moved by ${kind ?? "?"}, which the PDF cannot do`);
  }
}

/** Cosine and sine of the quarter and eighth turns: the others are not needed, and engines differ about them. */
const TURNS: Readonly<Record<number, readonly [number, number]>> = {
  0: [1, 0],
  45: [Math.SQRT1_2, Math.SQRT1_2],
  90: [0, 1],
  135: [-Math.SQRT1_2, Math.SQRT1_2],
  180: [-1, 0],
  225: [-Math.SQRT1_2, -Math.SQRT1_2],
  270: [0, -1],
  315: [Math.SQRT1_2, -Math.SQRT1_2],
};

function turn(canvas: Canvas, angle: number, x: number, y: number): void {
  const known = TURNS[((angle % 360) + 360) % 360];
  if (!known) throw new Error(`a figure is turned by ${angle}°, which the PDF cannot do`);
  const [cosine, sine] = known;
  canvas.pdf.transform(cosine, sine, -sine, cosine, x - cosine * x + sine * y, y - sine * x - cosine * y);
}
