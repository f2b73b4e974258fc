import type { Figure } from "@alcedo-dosimetry/figures";
import type { StructureElement } from "pdfkit";
import { harmless } from "../document/text.ts";
import type { Canvas } from "./canvas.ts";
import { drawElement } from "./drawing.ts";
import { FOOT, PAGE, WIDTH } from "./page-geometry.ts";

const GAP = 14;
/** Points per CSS pixel of a figure at its natural size; a wide figure is made smaller, none larger. */
const SCALE = 0.72;

/** A figure with its place in a row of figures. */
interface Placed {
  readonly figure: Figure;
  readonly scale: number;
  readonly width: number;
  readonly height: number;
}

/** Draws figures that follow each other side by side, as many as there is room for. */
export function drawFigures(canvas: Canvas, parent: StructureElement, figures: readonly Figure[]): void {
  let row: Placed[] = [];
  const close = () => {
    if (row.length > 0) drawRow(canvas, parent, row);
    row = [];
  };
  for (const figure of figures) {
    const placed = place(figure);
    const used = row.reduce((sum, { width }) => sum + width + GAP, 0);
    if (used + placed.width > WIDTH) close();
    row.push(placed);
  }
  close();
}

/** The height of the row that a figure begins. */
export function figureHeight(figure: Figure): number {
  return place(figure).height + 14;
}

function place(figure: Figure): Placed {
  const scale = Math.min(SCALE, WIDTH / figure.width, (FOOT - PAGE.top - 40) / figure.height);
  const width = figure.width * scale;
  return { figure, scale, width, height: figure.height * scale };
}

function drawRow(canvas: Canvas, parent: StructureElement, row: readonly Placed[]): void {
  const height = Math.max(...row.map((own) => own.height));
  canvas.gap(6);
  canvas.need(height + 8);
  const { pdf } = canvas;
  let x = PAGE.left;
  for (const { figure, scale, width, height: own } of row) {
    // pictures stand on one line; each bears its title itself
    const top = canvas.y + height - own;
    const element = canvas.element("Figure", parent, {
      alt: harmless(`${figure.title}. ${figure.description}`),
      bbox: [x, top, x + width, top + own],
    });
    canvas.content("Figure", element, () => {
      pdf.save();
      pdf.transform(scale, 0, 0, scale, x, top);
      drawElement(canvas, figure.root);
      pdf.restore();
    });
    x += width + GAP;
  }
  canvas.y += height + 8;
}
