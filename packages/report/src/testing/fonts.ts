import { readFileSync } from "node:fs";
import type { PdfFonts } from "../pdf/font-book.ts";

const read = (file: string) =>
  new Uint8Array(readFileSync(new URL(`../../../../node_modules/${file}`, import.meta.url)));

/** The fonts that the command line uses. */
export const FONTS: PdfFonts = {
  serif: read("@expo-google-fonts/source-serif-4/600SemiBold/SourceSerif4_600SemiBold.ttf"),
  sans: read("@expo-google-fonts/ibm-plex-sans/400Regular/IBMPlexSans_400Regular.ttf"),
  sansBold: read("@expo-google-fonts/ibm-plex-sans/600SemiBold/IBMPlexSans_600SemiBold.ttf"),
  mono: read("@expo-google-fonts/ibm-plex-mono/400Regular/IBMPlexMono_400Regular.ttf"),
  monoBold: read("@expo-google-fonts/ibm-plex-mono/600SemiBold/IBMPlexMono_600SemiBold.ttf"),
  fallback: read("dejavu-fonts-ttf/ttf/DejaVuSans.ttf"),
  fallbackBold: read("dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf"),
};
