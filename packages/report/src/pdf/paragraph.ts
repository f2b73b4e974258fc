import LineBreaker from "linebreak";
import type { Text, Tone } from "../document/document.ts";
import { harmless, runsOf } from "../document/text.ts";
import { drawnOrder, levelsOf, mirrored, turns } from "./bidi-order.ts";
import type { Face, FontBook } from "./font-book.ts";
import { INK } from "./page-geometry.ts";

/** How text is set where its runs do not say otherwise. */
export interface TextStyle {
  readonly face: Face;
  readonly size: number;
  readonly colour: string;
}

/** Text in one setting at its place on a line. */
export interface PlacedText extends TextStyle {
  readonly text: string;
  /** From the beginning of the line. */
  readonly x: number;
  /** How far it stands below the line. */
  readonly drop: number;
}

/** A line of text. */
export interface Line {
  readonly parts: readonly PlacedText[];
  readonly width: number;
  /** The words in the order in which they are read, where they are not drawn in it. */
  readonly actual?: string;
}

interface Span extends TextStyle {
  readonly start: number;
  readonly end: number;
  readonly drop: number;
}

/** What stands between two places where a line may be broken. */
interface Segment {
  readonly start: number;
  readonly end: number;
  /** Width with the blanks behind it, and without. */
  readonly width: number;
  readonly bare: number;
}

/** A text made ready for setting: what it says, how, and where it may be broken. */
export interface Paragraph {
  readonly text: string;
  readonly spans: readonly Span[];
  readonly segments: readonly Segment[];
}

const BOLD: Readonly<Partial<Record<Face, Face>>> = { sans: "sansBold", mono: "monoBold" };

function styled(style: TextStyle, tone: Tone | undefined): TextStyle & { readonly drop: number } {
  const { face, size, colour } = style;
  switch (tone) {
    case "strong":
      return { face: BOLD[face] ?? face, size, colour, drop: 0 };
    case "attention":
      return { face: BOLD[face] ?? face, size, colour: INK.attention, drop: 0 };
    case "dim":
      return { face, size, colour: INK.muted, drop: 0 };
    case "number":
      return { face: "mono", size, colour, drop: 0 };
    case "sub":
      return { face, size: size * 0.74, colour, drop: size * 0.16 };
    default:
      return { face, size, colour, drop: 0 };
  }
}

/** First strong isolate and its end: what stands between takes no part in the order of the words around it. */
const ISOLATE = "\u2068";
const END_ISOLATE = "\u2069";

/** Prepares a text for setting. */
export function paragraph(text: Text, style: TextStyle, book: FontBook): Paragraph {
  const spans: Span[] = [];
  let whole = "";
  for (const { text: own, tone } of runsOf(text)) {
    const fitting = book.fitting(harmless(own));
    const shown = tone === "user" && turns(fitting) ? ISOLATE + fitting + END_ISOLATE : fitting;
    spans.push({ ...styled(style, tone), start: whole.length, end: whole.length + shown.length });
    whole += shown;
  }
  return { text: whole, spans, segments: segmentsOf(whole, spans, book) };
}

function segmentsOf(text: string, spans: readonly Span[], book: FontBook): Segment[] {
  let start = 0;
  return breaksOf(text).map((end) => {
    const segment = {
      start,
      end,
      width: widthOf(text, spans, start, end, book),
      bare: widthOf(text, spans, start, trimmed(text, start, end), book),
    };
    start = end;
    return segment;
  });
}

function breaksOf(text: string): number[] {
  const breaks: number[] = [];
  const breaker = new LineBreaker(text);
  for (let found = breaker.nextBreak(); found; found = breaker.nextBreak()) breaks.push(found.position);
  if (breaks.at(-1) !== text.length) breaks.push(text.length);
  return breaks;
}

/** Width of a part of a paragraph on a line of its own. */
function widthOf(text: string, spans: readonly Span[], start: number, end: number, book: FontBook): number {
  return spans.reduce((sum, span) => {
    const [from, to] = [Math.max(start, span.start), Math.min(end, span.end)];
    return from < to ? sum + book.width(bare(text.slice(from, to)), span.face, span.size) : sum;
  }, 0);
}

const bare = (text: string) => text.replace(/[\u2066-\u2069]/g, "");

/** The width that a text takes on one line, and that of its longest part that is not broken. */
export function extent({ segments }: Paragraph): { readonly natural: number; readonly least: number } {
  return {
    natural: segments.reduce((sum, { width }) => sum + width, 0),
    least: segments.reduce((most, { bare: width }) => Math.max(most, width), 0),
  };
}

function trimmed(text: string, start: number, end: number): number {
  let to = end;
  while (to > start && /\s/u.test(text[to - 1]!)) to--;
  return to;
}

/**
 * Sets a paragraph in lines of that width. A word that is too long for a line is broken between its letters: whole, if
 * not pretty.
 *
 * @param hanging how far lines after the first are moved in.
 */
export function setLines(own: Paragraph, width: number, book: FontBook, hanging = 0): readonly Line[] {
  const { text, spans, segments } = own;
  const lines: Line[] = [];
  const levels = turns(text) ? levelsOf(text) : undefined;
  let start = 0;
  let used = 0;
  const indent = () => (lines.length > 0 ? hanging : 0);
  const close = (to: number) => {
    lines.push(lineOf(own, start, trimmed(text, start, to), levels, book, indent()));
    start = to;
    used = 0;
  };
  for (const segment of segments) {
    if (used + segment.bare > width - indent() + ROUNDING && segment.start > start) close(segment.start);
    if (segment.bare > width - indent() + ROUNDING) {
      // a word that is wider than a line
      const wordEnd = trimmed(text, start, segment.end);
      while (widthOf(text, spans, start, wordEnd, book) > width - indent() + ROUNDING) {
        const cut = fitting(own, start, wordEnd, width - indent(), book);
        if (cut >= wordEnd) break;
        close(cut);
      }
      used = widthOf(text, spans, start, segment.end, book);
    } else used += segment.width;
  }
  if (start < text.length || lines.length === 0) close(text.length);
  return lines;
}

/** Sums of widths may differ in their last bits from what they were when room was made for them. */
const ROUNDING = 0.01;

/** How far a word goes into a line; one letter at least. */
function fitting({ text, spans }: Paragraph, start: number, end: number, width: number, book: FontBook): number {
  const clusters = [...text.slice(start, end).matchAll(/\P{M}\p{M}*|\p{M}+/gsu)].map(
    (match) => start + match.index + match[0].length,
  );
  let [low, high] = [0, clusters.length - 1];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (widthOf(text, spans, start, clusters[middle]!, book) <= width) low = middle;
    else high = middle - 1;
  }
  return clusters[low] ?? end;
}

function lineOf(
  { text, spans }: Paragraph,
  start: number,
  end: number,
  levels: Uint8Array | undefined,
  book: FontBook,
  indent: number,
): Line {
  const stretches = levels ? drawnOrder(text, levels, start, end) : [{ start, end, rightToLeft: false }];
  const parts: PlacedText[] = [];
  let x = indent;
  for (const stretch of stretches) {
    const inside = spans.filter((span) => span.start < stretch.end && span.end > stretch.start);
    for (const span of stretch.rightToLeft ? inside.reverse() : inside) {
      const logical = bare(text.slice(Math.max(stretch.start, span.start), Math.min(stretch.end, span.end)));
      if (logical === "") continue;
      const { face, size, colour, drop } = span;
      // pieces in different fonts are drawn one by one, in a word from right to left the last of them first
      const shown = stretch.rightToLeft
        ? [...book.pieces(logical, face)].reverse().map((piece) => mirrored(piece.text))
        : [logical];
      for (const own of shown) {
        parts.push({ text: own, face, size, colour, drop, x });
        x += book.width(own, face, size);
      }
    }
  }
  const turned = levels !== undefined && stretches.some(({ rightToLeft }) => rightToLeft);
  return { parts, width: x, ...(turned && { actual: bare(text.slice(start, end)) }) };
}
