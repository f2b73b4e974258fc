import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

/** An element of a page's structure, as a reader for the blind gets it. */
export interface PageElement {
  readonly role: string;
  readonly alt?: string;
  readonly children: readonly PageElement[];
}

/** What another program reads in a PDF. */
export interface ReadPdf {
  /** Text page by page, in the order in which it was written; blanks are single. */
  readonly pages: readonly string[];
  readonly structure: readonly PageElement[];
  readonly info: Readonly<Record<string, unknown>>;
  readonly marked: boolean;
  readonly language: string | undefined;
  readonly outline: readonly string[];
}

/** Reads a PDF with a program that had no part in writing it. */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const task = getDocument({ data: bytes.slice(), verbosity: 0, useSystemFonts: false });
  const pdf = await task.promise;
  const pages: string[] = [];
  const structure: PageElement[] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const page = await pdf.getPage(n);
    const { items } = await page.getTextContent();
    pages.push(
      items
        .map((item) => ("str" in item ? item.str + (item.hasEOL ? " " : "") : ""))
        .join("")
        .replace(/\s+/g, " "),
    );
    structure.push((await page.getStructTree()) as unknown as PageElement);
  }
  const { info } = await pdf.getMetadata();
  const mark = await pdf.getMarkInfo();
  const outline = await pdf.getOutline();
  const read = {
    pages,
    structure,
    info: info as Record<string, unknown>,
    marked: (mark as { Marked?: boolean } | null)?.Marked === true,
    language: (info as { Language?: string }).Language,
    outline: (outline as { title: string }[] | null)?.map(({ title }) => title) ?? [],
  };
  await task.destroy();
  return read;
}

/** Every element of some pages' structure. */
export function elementsOf(structure: readonly PageElement[]): PageElement[] {
  return structure.flatMap((element) => [element, ...elementsOf(element.children.filter((child) => child.role))]);
}
