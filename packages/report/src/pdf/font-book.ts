import { create, type Font } from "fontkit";
import type PDFDocument from "pdfkit";
import { codePointName } from "../document/text.ts";

/** The fonts of a PDF, as the bytes of TrueType files. The last two step in for characters that the others lack. */
export interface PdfFonts {
  readonly serif: Uint8Array;
  readonly sans: Uint8Array;
  readonly sansBold: Uint8Array;
  readonly mono: Uint8Array;
  readonly monoBold: Uint8Array;
  readonly fallback: Uint8Array;
  readonly fallbackBold: Uint8Array;
}

/** What text may be set in. */
export type Face = "serif" | "sans" | "sansBold" | "mono" | "monoBold";

/** Where a face looks for a glyph, in this order. */
const CHAINS: Readonly<Record<Face, readonly (keyof PdfFonts)[]>> = {
  serif: ["serif", "fallbackBold", "fallback"],
  sans: ["sans", "fallback"],
  sansBold: ["sansBold", "fallbackBold", "fallback"],
  mono: ["mono", "sans", "fallback"],
  monoBold: ["monoBold", "sansBold", "fallbackBold", "fallback"],
};

/** A piece of text in one font. */
interface Piece {
  readonly text: string;
  readonly font: keyof PdfFonts;
}

/** Fonts, with widths, and the characters that none of them has. */
export interface FontBook {
  /** The text with every character that no font has written as `⟨U+1F600⟩`; such characters are remembered. */
  fitting(text: string): string;
  /** The characters that had to be written by their numbers. */
  readonly missing: ReadonlySet<string>;
  pieces(text: string, face: Face): readonly Piece[];
  /** Width in points. */
  width(text: string, face: Face, size: number): number;
}

/** A letter and the marks that stand on it; what is joined stays together. */
const CLUSTER = /\P{M}(?:\p{M}|\u200C|\u200D|(?<=\u200D).)*|\p{M}+/gsu;

/**
 * A font's bytes with some zeros behind them. Of a blank whose outline would lie behind the end of the file the font library
 * reads the box all the same, and stumbles.
 */
function padded(bytes: Uint8Array): Uint8Array {
  const longer = new Uint8Array(bytes.length + 16);
  longer.set(bytes);
  return longer;
}

/** Opens the fonts and makes them known to a document. */
export function fontBook(document: PDFDocument, fonts: PdfFonts): FontBook {
  const names = Object.keys(fonts) as (keyof PdfFonts)[];
  const opened = Object.fromEntries(names.map((name) => [name, create(padded(fonts[name]))])) as Record<
    keyof PdfFonts,
    Font
  >;
  for (const name of names) document.registerFont(name, opened[name]);
  const missing = new Set<string>();
  const has = (name: keyof PdfFonts, text: string) =>
    [...text].every((character) => opened[name].hasGlyphForCodePoint(character.codePointAt(0)!));
  const known = new Map<string, boolean>();
  const anyHas = (character: string) => {
    const seen = known.get(character);
    if (seen !== undefined) return seen;
    const found = has("fallback", character);
    known.set(character, found);
    return found;
  };
  const cut = new Map<string, readonly Piece[]>();
  const pieces = (text: string, face: Face): readonly Piece[] => {
    const key = `${face}|${text}`;
    const seen = cut.get(key);
    if (seen) return seen;
    const found: Piece[] = [];
    for (const [cluster] of text.matchAll(CLUSTER)) {
      const chain = CHAINS[face];
      const font = chain.find((name) => has(name, cluster)) ?? "fallback";
      const last = found.at(-1);
      if (last?.font === font) found[found.length - 1] = { font, text: last.text + cluster };
      else found.push({ font, text: cluster });
    }
    cut.set(key, found);
    return found;
  };
  const measured = new Map<string, number>();
  const unitWidth = (text: string, face: Face): number => {
    const key = `${face}|${text}`;
    const seen = measured.get(key);
    if (seen !== undefined) return seen;
    const found = pieces(text, face).reduce(
      (sum, piece) => sum + document.font(piece.font, 1).widthOfString(piece.text),
      0,
    );
    measured.set(key, found);
    return found;
  };
  return {
    missing,
    pieces,
    fitting: (text) =>
      [...text]
        .map((character) => {
          if (anyHas(character)) return character;
          missing.add(character);
          return `⟨${codePointName(character)}⟩`;
        })
        .join(""),
    width: (text, face, size) => size * unitWidth(text, face),
  };
}
