export { DOCUMENT_KINDS, type DocumentKind, type ReportDocument } from "./document/document.ts";
export { conditionFigure, figureOf, figuresOf } from "./figures/index.ts";
export { htmlPage } from "./html/html-page.ts";
export type { PdfFonts } from "./pdf/font-book.ts";
export { pdfFile } from "./pdf/pdf-file.ts";
export { type ReportOptions, reportDocument } from "./report-document.ts";
export type { SignedBy } from "./signed-by.ts";
