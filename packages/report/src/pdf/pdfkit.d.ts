/** What of pdfkit 0.20 and of its two companions is used here; they bring no types of their own. */
declare module "pdfkit" {
  import type { Font } from "fontkit";

  export interface StructureContent {
    readonly refs: readonly unknown[];
  }

  export interface StructureElement {
    add(child: StructureElement | StructureContent): this;
    end(): void;
  }

  export interface StructureOptions {
    readonly title?: string;
    readonly alt?: string;
    readonly scope?: "Row" | "Column";
    readonly bbox?: readonly [left: number, top: number, right: number, bottom: number];
  }

  export default class PDFDocument {
    constructor(options: Readonly<Record<string, unknown>>);
    info: Record<string, unknown>;
    readonly outline: { addItem(title: string): unknown };
    push(chunk: Uint8Array | null): boolean;
    appendXML(xml: string): void;
    addPage(): this;
    bufferedPageRange(): { readonly start: number; readonly count: number };
    switchToPage(page: number): unknown;
    end(): void;

    registerFont(name: string, font: Font): this;
    font(name: string, size?: number): this;
    text(
      text: string,
      x: number,
      y: number,
      options: { readonly lineBreak: false; readonly baseline: "alphabetic" },
    ): this;
    widthOfString(text: string): number;

    struct(type: string, options?: StructureOptions): StructureElement;
    addStructure(element: StructureElement): this;
    markStructureContent(tag: string): StructureContent;
    markContent(tag: string, options?: { readonly type?: string; readonly actual?: string }): this;
    endMarkedContent(): this;

    save(): this;
    restore(): this;
    transform(a: number, b: number, c: number, d: number, e: number, f: number): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    rect(x: number, y: number, width: number, height: number): this;
    roundedRect(x: number, y: number, width: number, height: number, radius: number): this;
    circle(x: number, y: number, radius: number): this;
    ellipse(x: number, y: number, radiusX: number, radiusY: number): this;
    polygon(...points: readonly (readonly [number, number])[]): this;
    path(data: string): this;
    clip(rule?: "even-odd"): this;
    fill(colour: string): this;
    stroke(colour: string): this;
    fillAndStroke(fill: string, stroke: string): this;
    fillColor(colour: string, opacity?: number): this;
    strokeColor(colour: string, opacity?: number): this;
    opacity(opacity: number): this;
    lineWidth(width: number): this;
    lineCap(cap: "butt" | "round" | "square"): this;
    lineJoin(join: "miter" | "round" | "bevel"): this;
    dash(lengths: readonly number[], options?: { readonly phase?: number }): this;
    undash(): this;
  }
}

declare module "fontkit" {
  export interface Font {
    readonly postscriptName: string;
    hasGlyphForCodePoint(codePoint: number): boolean;
  }
  export function create(bytes: Uint8Array): Font;
}

declare module "linebreak" {
  export default class LineBreaker {
    constructor(text: string);
    nextBreak(): { readonly position: number; readonly required: boolean } | null;
  }
}
