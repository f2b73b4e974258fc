import type { StructureElement } from "pdfkit";
import type { Block, Text } from "../document/document.ts";
import { harmless, line, runsOf } from "../document/text.ts";
import type { Canvas } from "./canvas.ts";
import { INK, PAGE, WIDTH } from "./page-geometry.ts";
import { type Line, paragraph, setLines, type TextStyle } from "./paragraph.ts";
import { drawFigures, figureHeight } from "./pdf-figures.ts";
import { drawTable, tableStart } from "./pdf-table.ts";

const BODY: TextStyle = { face: "sans", size: 9, colour: INK.text };
const LEAD: TextStyle = { face: "sans", size: 10.5, colour: INK.text };
const DIM: TextStyle = { face: "sans", size: 8.2, colour: INK.muted };
const STRONG: TextStyle = { face: "sansBold", size: 9, colour: INK.text };
const FORMULA: TextStyle = { face: "mono", size: 7.8, colour: INK.text };
const TERM: TextStyle = { face: "sans", size: 8.6, colour: INK.muted };
const SMALL: TextStyle = { face: "sans", size: 8.2, colour: INK.text };

/** Headings by level: the document's title is 1, a section's 2. */
const HEADINGS: Readonly<Record<1 | 2 | 3 | 4, { readonly style: TextStyle; readonly before: number }>> = {
  1: { style: { face: "serif", size: 20, colour: INK.text }, before: 0 },
  2: { style: { face: "serif", size: 14, colour: INK.text }, before: 18 },
  3: { style: { face: "serif", size: 11, colour: INK.text }, before: 12 },
  4: { style: { face: "serif", size: 9.6, colour: INK.text }, before: 9 },
};

const PARAGRAPHS = { lead: LEAD, dim: DIM, strong: STRONG } as const;
const TERM_WIDTH = 104;
const leading = (size: number) => size * 1.34;

/** Draws blocks one under the other; a heading is never left alone at the foot of a page. */
export function drawBlocks(canvas: Canvas, parent: StructureElement, blocks: readonly Block[]): void {
  let i = 0;
  while (i < blocks.length) {
    const block = blocks[i]!;
    if (block.kind === "figure") {
      const row = blocks.slice(i).findIndex(({ kind }) => kind !== "figure");
      const end = row < 0 ? blocks.length : i + row;
      drawFigures(
        canvas,
        parent,
        blocks.slice(i, end).flatMap((own) => (own.kind === "figure" ? [own.figure] : [])),
      );
      i = end;
    } else {
      if (block.kind === "heading")
        drawHeading(canvas, parent, (block.level + 1) as 3 | 4, block.text, startHeight(canvas, blocks.slice(i + 1)));
      else drawBlock(canvas, parent, block);
      i++;
    }
  }
}

/** Draws a heading together with the beginning of what follows it. */
export function drawHeading(
  canvas: Canvas,
  parent: StructureElement,
  level: 1 | 2 | 3 | 4,
  text: Text,
  following: number,
): void {
  const { style, before } = HEADINGS[level];
  const lines = set(canvas, text, style);
  const height = lines.length * leading(style.size);
  canvas.gap(before);
  canvas.need(height + 4 + following);
  if (level === 2) {
    canvas.rule(PAGE.left, canvas.y, PAGE.left + WIDTH, canvas.y, INK.text, 1.2);
    canvas.y += 5;
  }
  const tag = `H${level}`;
  drawLines(canvas, lines, style, tag, canvas.element(tag, parent));
  canvas.y += 3;
}

/** How much of what follows a heading must stand on its page. */
export function startHeight(canvas: Canvas, blocks: readonly Block[]): number {
  const [first, ...rest] = blocks;
  if (!first) return 0;
  switch (first.kind) {
    case "heading":
      return 30 + startHeight(canvas, rest);
    case "table":
      return tableStart(canvas, first) + 10;
    case "figure":
      return figureHeight(first.figure);
    case "signatures":
      return 120;
    case "formula":
    case "finding":
      return 60;
    case "paragraph":
      // a short line that leads in to a table or figure stays with it
      return runsOf(first.text).reduce((sum, { text }) => sum + text.length, 0) > 200
        ? 40
        : 16 + Math.min(120, startHeight(canvas, rest.slice(0, 1)));
    default:
      return 40;
  }
}

function set(canvas: Canvas, text: Text, style: TextStyle, width = WIDTH, hanging = 0): readonly Line[] {
  return setLines(paragraph(text, style, canvas.book), width, canvas.book, hanging);
}

/** Lines of one element, over pages where they must; a single line is not left behind. */
function drawLines(
  canvas: Canvas,
  lines: readonly Line[],
  { size }: TextStyle,
  tag: string,
  owner: StructureElement,
  x: number = PAGE.left,
): void {
  const step = leading(size);
  lines.forEach((own, i) => {
    const lonely = i === 0 && lines.length > 1 ? 2 : 1;
    canvas.need(step * lonely);
    canvas.content(tag, owner, () => canvas.line(own, x, canvas.y + size));
    canvas.y += step;
  });
}

function drawBlock(
  canvas: Canvas,
  parent: StructureElement,
  block: Exclude<Block, { kind: "figure" | "heading" }>,
): void {
  switch (block.kind) {
    case "paragraph": {
      const style = block.tone === undefined ? BODY : PARAGRAPHS[block.tone];
      canvas.gap(3);
      drawLines(canvas, set(canvas, block.text, style), style, "P", canvas.element("P", parent));
      canvas.y += 2;
      return;
    }
    case "facts":
      drawFacts(canvas, parent, block.facts);
      return;
    case "formula":
      drawFormula(canvas, parent, block.lines, block.alternative);
      return;
    case "finding":
      drawFinding(canvas, parent, block.parts, block.level);
      return;
    case "blank":
      canvas.gap(8);
      canvas.need(20);
      drawBlank(canvas, parent, block.label, PAGE.left, WIDTH);
      canvas.y += 20;
      return;
    case "signatures":
      for (const role of block.roles) drawSignature(canvas, parent, role, block.date);
      return;
    case "page-break":
      if (!canvas.atTop) canvas.turn();
      return;
    case "table":
      drawTable(canvas, parent, block);
      return;
  }
}

function drawFacts(canvas: Canvas, parent: StructureElement, facts: readonly (readonly [string, Text])[]): void {
  const list = canvas.element("L", parent);
  canvas.gap(4);
  for (const [term, value] of facts) {
    const item = canvas.element("LI", list);
    const terms = set(canvas, term, TERM, TERM_WIDTH - 8);
    const lines = set(canvas, value, BODY, WIDTH - TERM_WIDTH);
    canvas.need(leading(BODY.size) * Math.max(terms.length, Math.min(lines.length, 4)));
    const label = canvas.element("Lbl", item);
    terms.forEach((own, i) => {
      canvas.content("Lbl", label, () => canvas.line(own, PAGE.left, canvas.y + BODY.size + i * leading(BODY.size)));
    });
    const foot = canvas.y + terms.length * leading(BODY.size);
    drawLines(canvas, lines, BODY, "LBody", canvas.element("LBody", item), PAGE.left + TERM_WIDTH);
    if (lines.length < terms.length) canvas.y = foot;
    canvas.y += 0.6;
  }
  canvas.y += 3;
}

function drawFormula(canvas: Canvas, parent: StructureElement, lines: readonly Text[], alternative: string): void {
  const owner = canvas.element("Formula", parent, { alt: harmless(alternative) });
  const laid = lines.map((text) => set(canvas, text, FORMULA, WIDTH - 16, 14));
  const height = laid.reduce((sum, own) => sum + own.length, 0) * leading(FORMULA.size);
  canvas.gap(5);
  if (height < 200) canvas.need(height);
  for (const own of laid)
    for (const each of own) {
      const step = leading(FORMULA.size);
      canvas.need(step);
      canvas.rule(PAGE.left + 1, canvas.y, PAGE.left + 1, canvas.y + step, INK.rule, 1.6);
      canvas.content("Formula", owner, () => canvas.line(each, PAGE.left + 10, canvas.y + FORMULA.size));
      canvas.y += step;
    }
  canvas.y += 4;
}

function drawFinding(canvas: Canvas, parent: StructureElement, parts: readonly Text[], level: string): void {
  const owner = canvas.element("Div", parent);
  const laid = parts.map((part) => set(canvas, part, BODY, WIDTH - 14));
  const height = laid.reduce((sum, own) => sum + own.length * leading(BODY.size) + 2, 0);
  canvas.gap(6);
  if (height < 300) canvas.need(height);
  const colour = level === "notice" ? INK.muted : INK.attention;
  for (const own of laid) {
    const paragraphOf = canvas.element("P", owner);
    for (const each of own) {
      const step = leading(BODY.size);
      canvas.need(step);
      canvas.rule(PAGE.left + 1.5, canvas.y, PAGE.left + 1.5, canvas.y + step + 1, colour, 2.4);
      canvas.content("P", paragraphOf, () => canvas.line(each, PAGE.left + 11, canvas.y + BODY.size));
      canvas.y += step;
    }
    canvas.y += 1;
  }
  canvas.y += 2;
}

/** A label with a line behind it to write on, or with what is known of it. */
function drawBlank(
  canvas: Canvas,
  parent: StructureElement,
  label: string,
  x: number,
  width: number,
  value = "",
): void {
  const text = set(canvas, line(`${label}:`, ...(value === "" ? [] : [` ${value}`])), SMALL)[0]!;
  const base = canvas.y + 12;
  canvas.content("P", canvas.element("P", parent), () => canvas.line(text, x, base));
  if (value === "") canvas.rule(x + text.width + 6, base + 2, x + width, base + 2, INK.text, 0.6);
}

function drawSignature(canvas: Canvas, parent: StructureElement, role: string, date: string | undefined): void {
  canvas.gap(8);
  canvas.need(66);
  const owner = canvas.element("Div", parent);
  drawLines(canvas, set(canvas, role, STRONG), STRONG, "P", canvas.element("P", owner));
  canvas.y += 8;
  drawBlank(canvas, owner, "Name", PAGE.left, WIDTH * 0.36);
  drawBlank(canvas, owner, "Signature", PAGE.left + WIDTH * 0.39, WIDTH * 0.36);
  drawBlank(canvas, owner, "Date", PAGE.left + WIDTH * 0.78, WIDTH * 0.22, date);
  canvas.y += 26;
}
