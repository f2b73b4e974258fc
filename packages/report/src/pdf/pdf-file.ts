import type { ReportDocument } from "../document/document.ts";
import { codePointName, harmless } from "../document/text.ts";
import { Canvas } from "./canvas.ts";
import { type FontBook, fontBook, type PdfFonts } from "./font-book.ts";
import { INK, PAGE, WIDTH } from "./page-geometry.ts";
import { type Line, paragraph, setLines, type TextStyle } from "./paragraph.ts";
import { drawBlocks, drawHeading, startHeight } from "./pdf-blocks.ts";
import { TaggedPdf } from "./tagged-pdf.ts";

const TYPE: TextStyle = { face: "sansBold", size: 9, colour: INK.attention };
const MARKING: TextStyle = { face: "sansBold", size: 9, colour: INK.attention };
const HEAD: TextStyle = { face: "sans", size: 7.4, colour: INK.muted };
const DIGEST: TextStyle = { face: "mono", size: 6.2, colour: INK.muted };

/**
 * A document as a tagged PDF, A4 upright: every element in the structure tree, language and title set, every page with
 * the digest of the input, the version, its number and, where the data were not measured, the marking. Same document and
 * fonts, same bytes.
 *
 * @param fonts the bytes of the fonts; a character that none of them has is written by its number, and a note says so.
 */
export function pdfFile(document: ReportDocument, fonts: PdfFonts): Uint8Array {
  const { type, title, campaign, input, version, marking, date, lead, sections } = document;
  const pdf = new TaggedPdf(
    {
      title: harmless(`${type}: ${title}${marking === undefined ? "" : ` (${marking})`}`),
      subject: `${type} of the campaign ${campaign}`,
      keywords: input,
      creator: `alcedo ${version}`,
      ...(date !== undefined && { date }),
    },
    { left: PAGE.left, right: PAGE.right, top: PAGE.top, bottom: PAGE.bottom },
  );
  const book = fontBook(pdf, fonts);
  const canvas = new Canvas(pdf, book);
  const root = pdf.struct("Document", { title: harmless(title) });
  pdf.addStructure(root);
  const head = canvas.element("Sect", root);
  drawType(canvas, book, `alcedo · ${type}`, (draw) => canvas.content("P", canvas.element("P", head), draw));
  drawHeading(canvas, head, 1, [{ text: title, tone: "user" }], 60);
  drawBlocks(canvas, head, lead);
  for (const { title: own, blocks } of sections) {
    const section = canvas.element("Sect", root);
    drawHeading(canvas, section, 2, own, startHeight(canvas, blocks));
    pdf.outline.addItem(own);
    drawBlocks(canvas, section, blocks);
  }
  if (book.missing.size > 0) {
    const names = [...book.missing].map(codePointName).sort().join(", ");
    drawBlocks(canvas, canvas.element("Sect", root), [
      {
        kind: "paragraph",
        tone: "dim",
        text: `Characters that no font of this file has are written by their numbers: ${names}. The HTML file and the campaign hold them as typed.`,
      },
    ]);
  }
  root.end();
  drawMargins(canvas, document);
  return pdf.bytes();
}

function drawType(canvas: Canvas, book: FontBook, text: string, tag: (draw: () => void) => void): void {
  const line = oneLine(text, TYPE, book);
  tag(() => canvas.line(line, PAGE.left, canvas.y + TYPE.size));
  canvas.y += 16;
}

const oneLine = (text: string, style: TextStyle, book: FontBook): Line =>
  setLines(paragraph(text, style, book), Number.POSITIVE_INFINITY, book)[0]!;

/** What stands at the head and foot of every page, once it is known how many there are. */
function drawMargins(canvas: Canvas, { type, campaign, input, version, marking }: ReportDocument): void {
  const { pdf, book } = canvas;
  const { start, count } = pdf.bufferedPageRange();
  const right = (line: Line, y: number) => canvas.line(line, PAGE.left + WIDTH - line.width, y);
  for (let page = start; page < start + count; page++) {
    pdf.switchToPage(page);
    canvas.artifact("Pagination", () => {
      if (marking !== undefined) canvas.line(oneLine(`▲ ${marking}`, MARKING, book), PAGE.left, 36);
      const name = campaign.length > 60 ? `${campaign.slice(0, 59)}…` : campaign;
      right(oneLine(`${name} · ${type.toLowerCase()}`, HEAD, book), 36);
      canvas.line(oneLine(input, DIGEST, book), PAGE.left, PAGE.height - 32);
      right(oneLine(`alcedo ${version} · page ${page + 1} of ${count}`, HEAD, book), PAGE.height - 32);
    });
    canvas.rule(PAGE.left, PAGE.height - 43, PAGE.left + WIDTH, PAGE.height - 43, INK.rule, 0.5);
  }
}
