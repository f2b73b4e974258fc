import type { PdfFonts } from "../pdf/font-book.ts";

/**
 * Where the fonts of a PDF lie, each as a module's path: in packages of their own (SIL Open Font License, and the free licence
 * of the last), which this package depends on. Nothing is fetched.
 */
export const FONT_FILES: Readonly<Record<keyof PdfFonts, string>> = {
  serif: "@expo-google-fonts/source-serif-4/600SemiBold/SourceSerif4_600SemiBold.ttf",
  sans: "@expo-google-fonts/ibm-plex-sans/400Regular/IBMPlexSans_400Regular.ttf",
  sansBold: "@expo-google-fonts/ibm-plex-sans/600SemiBold/IBMPlexSans_600SemiBold.ttf",
  mono: "@expo-google-fonts/ibm-plex-mono/400Regular/IBMPlexMono_400Regular.ttf",
  monoBold: "@expo-google-fonts/ibm-plex-mono/600SemiBold/IBMPlexMono_600SemiBold.ttf",
  fallback: "dejavu-fonts-ttf/ttf/DejaVuSans.ttf",
  fallbackBold: "dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf",
};

/**
 * All fonts of a PDF, out of a way to read one.
 *
 * @param read gives the bytes of a module's path
 */
export function fontsFrom(read: (path: string) => Uint8Array): PdfFonts {
  return {
    serif: read(FONT_FILES.serif),
    sans: read(FONT_FILES.sans),
    sansBold: read(FONT_FILES.sansBold),
    mono: read(FONT_FILES.mono),
    monoBold: read(FONT_FILES.monoBold),
    fallback: read(FONT_FILES.fallback),
    fallbackBold: read(FONT_FILES.fallbackBold),
  };
}
