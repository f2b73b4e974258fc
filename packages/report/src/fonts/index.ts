/** The fonts of a PDF: which files they are, for whoever can read files. */
export { FONT_FILES, fontsFrom } from "./font-files.ts";
