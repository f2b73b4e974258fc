import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { PdfFonts } from "@alcedo-dosimetry/report";
import { fontsFrom } from "@alcedo-dosimetry/report/fonts";

/** Reads the fonts, which the set-up has put beside the program: nothing is fetched. */
export function reportFonts(): PdfFonts {
  const { resolve } = createRequire(import.meta.url);
  return fontsFrom((path) => new Uint8Array(readFileSync(resolve(path))));
}
