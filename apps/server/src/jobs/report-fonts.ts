import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { PdfFonts } from "@alcedo-dosimetry/report";
import { fontsFrom } from "@alcedo-dosimetry/report/fonts";

let read: PdfFonts | undefined;

/** The fonts of a PDF, which the set-up has put beside the program; read once in each thread. */
export function reportFonts(): PdfFonts {
  const { resolve } = createRequire(import.meta.url);
  read ??= fontsFrom((path) => new Uint8Array(readFileSync(resolve(path))));
  return read;
}
