import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { PdfFonts } from "@alcedo-dosimetry/report";

/** Where the fonts of a PDF lie: in packages of their own (SIL Open Font License, and the free licence of the last). */
const FILES: Readonly<Record<keyof PdfFonts, string>> = {
  serif: "@expo-google-fonts/source-serif-4/600SemiBold/SourceSerif4_600SemiBold.ttf",
  sans: "@expo-google-fonts/ibm-plex-sans/400Regular/IBMPlexSans_400Regular.ttf",
  sansBold: "@expo-google-fonts/ibm-plex-sans/600SemiBold/IBMPlexSans_600SemiBold.ttf",
  mono: "@expo-google-fonts/ibm-plex-mono/400Regular/IBMPlexMono_400Regular.ttf",
  monoBold: "@expo-google-fonts/ibm-plex-mono/600SemiBold/IBMPlexMono_600SemiBold.ttf",
  fallback: "dejavu-fonts-ttf/ttf/DejaVuSans.ttf",
  fallbackBold: "dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf",
};

/** Reads the fonts, which the set-up has put beside the program: nothing is fetched. */
export function reportFonts(): PdfFonts {
  const { resolve } = createRequire(import.meta.url);
  const read = (file: string) => new Uint8Array(readFileSync(resolve(file)));
  return {
    serif: read(FILES.serif),
    sans: read(FILES.sans),
    sansBold: read(FILES.sansBold),
    mono: read(FILES.mono),
    monoBold: read(FILES.monoBold),
    fallback: read(FILES.fallback),
    fallbackBold: read(FILES.fallbackBold),
  };
}
