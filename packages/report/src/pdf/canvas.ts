import type { StructureElement, StructureOptions } from "pdfkit";
import type { FontBook } from "./font-book.ts";
import { FOOT, PAGE } from "./page-geometry.ts";
import type { Line, PlacedText } from "./paragraph.ts";
import type { TaggedPdf } from "./tagged-pdf.ts";

/** Pages that are being filled from the top: where the next line stands, and what is drawn belongs to which element. */
export class Canvas {
  /** Where the next block begins, from the top of the page. */
  y: number = PAGE.top;
  readonly pdf: TaggedPdf;
  readonly book: FontBook;

  constructor(pdf: TaggedPdf, book: FontBook) {
    this.pdf = pdf;
    this.book = book;
    pdf.addPage();
  }

  /** What is left of this page. */
  get room(): number {
    return FOOT - this.y;
  }

  /** True where nothing stands on this page yet. */
  get atTop(): boolean {
    return this.y === PAGE.top;
  }

  /** Begins a new page. */
  turn(): void {
    this.pdf.addPage();
    this.y = PAGE.top;
  }

  /** Turns the page unless so much room is left. */
  need(height: number): void {
    if (height > this.room && !this.atTop) this.turn();
  }

  /** Leaves room before a block; none at the top of a page. */
  gap(height: number): void {
    if (!this.atTop) this.y += height;
  }

  /** An element of the document's structure. */
  element(type: string, parent: StructureElement, options?: StructureOptions): StructureElement {
    const made = this.pdf.struct(type, options);
    parent.add(made);
    return made;
  }

  /** Draws what belongs to an element. */
  content(type: string, owner: StructureElement, draw: () => void): void {
    const content = this.pdf.markStructureContent(type);
    draw();
    this.pdf.endMarkedContent();
    owner.add(content);
  }

  /** Draws what is of no meaning of its own: rules, grounds, what repeats on every page. */
  artifact(type: "Layout" | "Pagination", draw: () => void): void {
    this.pdf.markContent("Artifact", { type });
    draw();
    this.pdf.endMarkedContent();
  }

  /** Draws a line of text; `y` is its baseline. */
  line({ parts, actual }: Line, x: number, y: number): void {
    if (actual !== undefined) this.pdf.markContent("Span", { actual });
    for (const part of parts) this.text(part, x + part.x, y + part.drop);
    if (actual !== undefined) this.pdf.endMarkedContent();
  }

  private text({ text, face, size, colour }: PlacedText, x: number, y: number): void {
    let at = x;
    for (const piece of this.book.pieces(text, face)) {
      this.pdf.font(piece.font, size).fillColor(colour);
      this.pdf.text(piece.text, at, y, { lineBreak: false, baseline: "alphabetic" });
      at += this.pdf.widthOfString(piece.text);
    }
  }

  /** Draws a straight rule, which says nothing. */
  rule(x1: number, y1: number, x2: number, y2: number, colour: string, width: number): void {
    this.artifact("Layout", () => this.pdf.lineWidth(width).moveTo(x1, y1).lineTo(x2, y2).stroke(colour));
  }

  /** Draws an area behind text. */
  ground(x: number, y: number, width: number, height: number, colour: string): void {
    this.artifact("Layout", () => this.pdf.rect(x, y, width, height).fill(colour));
  }
}
