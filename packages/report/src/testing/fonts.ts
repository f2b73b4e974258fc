import { readFileSync } from "node:fs";
import { fontsFrom } from "../fonts/font-files.ts";
import type { PdfFonts } from "../pdf/font-book.ts";

/** The fonts that the programs use. */
export const FONTS: PdfFonts = fontsFrom(
  (file) => new Uint8Array(readFileSync(new URL(`../../../../node_modules/${file}`, import.meta.url))),
);
