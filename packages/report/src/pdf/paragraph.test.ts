import { describe, expect, test } from "vitest";
import { FONTS } from "../testing/fonts.ts";
import { fontBook } from "./font-book.ts";
import { extent, type Line, paragraph, setLines, type TextStyle } from "./paragraph.ts";
import { TaggedPdf } from "./tagged-pdf.ts";

const book = fontBook(
  new TaggedPdf({ title: "t", subject: "s", keywords: "k", creator: "c" }, { left: 0, right: 0, top: 0, bottom: 0 }),
  FONTS,
);
const STYLE: TextStyle = { face: "sans", size: 10, colour: "#000000" };
const words = (line: Line) => line.parts.map(({ text }) => text).join("");

describe("lines of a paragraph", () => {
  test("are broken between words and are no wider than they may be", () => {
    const text = "The stem ratio was verified up to the largest stem load that was measured.";
    const lines = setLines(paragraph(text, STYLE, book), 120, book);
    expect(lines.length).toBeGreaterThan(2);
    expect(lines.map(words).join(" ")).toBe(text);
    for (const { width } of lines) expect(width).toBeLessThanOrEqual(120);
  });

  test("break a word that is wider than a line, and lose no letter of it", () => {
    const text = `note ${"x".repeat(200)} end`;
    const lines = setLines(paragraph(text, STYLE, book), 80, book);
    expect(lines.map(words).join("").replace(/\s/g, "")).toBe(text.replace(/\s/g, ""));
    for (const { width } of lines) expect(width).toBeLessThanOrEqual(80.1);
  });

  test("set one letter a line where not even that fits", () => {
    expect(setLines(paragraph("abc", STYLE, book), 1, book).map(words)).toEqual(["a", "b", "c"]);
  });

  test("of an empty text are one empty line", () => {
    expect(setLines(paragraph("", STYLE, book), 100, book)).toEqual([{ parts: [], width: 0 }]);
  });

  test("keep the words as they are read beside those that are drawn from right to left", () => {
    const [line] = setLines(paragraph([{ text: "ראה: r048", tone: "user" }], STYLE, book), 300, book);
    expect(line!.actual).toBe("ראה: r048");
    // the name of the reading, last read, is drawn first; the colon stands left of its word
    expect(words(line!).indexOf("r048")).toBeLessThan(words(line!).indexOf(":"));
    expect(words(line!).indexOf(":")).toBeLessThan(words(line!).indexOf("ראה"));
  });

  test("set what stands at the foot of a symbol smaller and lower", () => {
    const [line] = setLines(paragraph([{ text: "Ω" }, { text: "ref", tone: "sub" }], STYLE, book), 100, book);
    expect(line!.parts[1]!.size).toBeLessThan(line!.parts[0]!.size);
    expect(line!.parts[1]!.drop).toBeGreaterThan(0);
  });
});

describe("fonts", () => {
  test("have every sign that the documents use", () => {
    for (const sign of "Ωρμσχδℓ²±×−·√∞→⁰¹²³⁴⁵⁶⁷⁸⁹⁻●○◐✕▲↵⌀…⟨⟩") expect(book.fitting(sign), sign).toBe(sign);
    expect(book.missing.size).toBe(0);
  });

  test("step in for each other sign by sign, a letter and its marks from one of them", () => {
    expect(book.pieces("q̂ × 10⁻⁴", "mono").map(({ text }) => text)).toEqual(["q̂ × 10", "⁻", "⁴"]);
    expect(book.pieces("ρ", "mono")).toEqual([{ text: "ρ", font: "sans" }]);
  });

  test("write what none of them has by its number, and remember it", () => {
    expect(book.fitting("a漢b")).toBe("a⟨U+6F22⟩b");
    expect(book.missing).toEqual(new Set(["漢"]));
  });
});

test("the extent of a paragraph is its width on one line, and that of its longest word", () => {
  const { natural, least } = extent(paragraph("a longest word", STYLE, book));
  expect(natural).toBeCloseTo(book.width("a longest word", "sans", 10), 6);
  expect(least).toBeCloseTo(book.width("longest", "sans", 10), 6);
});
