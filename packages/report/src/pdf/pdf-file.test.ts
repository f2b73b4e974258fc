import { concise } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { DOCUMENT_KINDS, type DocumentKind } from "../document/document.ts";
import { reportDocument } from "../report-document.ts";
import { evaluated, HOSTILE, hostile, manyReadings } from "../testing/demonstration.ts";
import { FONTS } from "../testing/fonts.ts";
import { elementsOf, readPdf } from "../testing/read-pdf.ts";
import { pdfFile } from "./pdf-file.ts";

const [campaign, evaluation] = evaluated();
const pdfOf = (kind: DocumentKind, date?: string) =>
  pdfFile(reportDocument(campaign, evaluation, { kind, ...(date !== undefined && { date }) }), FONTS);
const record = pdfOf("record");
const read = await readPdf(record);
const close = (text: string) => text.replace(/\s/g, "");
const whole = close(read.pages.join(" "));

describe("the PDF of the full record", () => {
  test("holds every result in its text, value and uncertainty as they are printed elsewhere", () => {
    const { quantities } = evaluation.result;
    expect(quantities.length).toBeGreaterThan(80);
    const missing = quantities.filter(
      ({ id, value, u }) => !whole.includes(close(id)) || !whole.includes(close(concise(value, u))),
    );
    expect(missing.map(({ id }) => id)).toEqual([]);
  });

  test("holds every reading as it was typed", () => {
    const cells = Object.values(campaign.tables).flatMap(({ rows }) => rows.flat());
    expect(cells.length).toBeGreaterThan(900);
    expect(cells.filter((cell) => !whole.includes(close(cell)))).toEqual([]);
  });

  test("bears digest, version, page number of all pages and the marking of invented data on every page", () => {
    expect(read.pages.length).toBeGreaterThan(10);
    read.pages.forEach((page, i) => {
      expect(page).toContain(evaluation.result.input);
      expect(page).toContain(`alcedo ${evaluation.result.alcedo} · page ${i + 1} of ${read.pages.length}`);
      expect(page).toContain("INVENTED DATA: measured nowhere, not for use");
    });
  });

  test("is tagged: marked, with language and title, headings, tables with heads, figures with words for them", () => {
    expect(read.marked).toBe(true);
    expect(read.language).toBe("en");
    expect(read.info["Title"]).toContain("Full record: Cones and small fields");
    const elements = elementsOf(read.structure);
    const roles = new Set(elements.map(({ role }) => role));
    for (const role of ["H1", "H2", "H3", "P", "L", "LI", "Table", "Caption", "TH", "TD", "Figure", "Formula"])
      expect(roles).toContain(role);
    expect(elements.filter(({ role, alt }) => (role === "Figure" || role === "Formula") && !alt)).toEqual([]);
    expect(elements.filter(({ role }) => role === "H1")).toHaveLength(1);
  });

  test("has every page's content in its structure or marked as an artifact", () => {
    // an untagged page has no structure tree at all
    expect(read.structure.every((page) => page.children.length > 0)).toBe(true);
  });

  test("lists its sections as bookmarks", () => {
    expect(read.outline).toContain("Question and answer");
    expect(read.outline).toContain("Signatures");
  });

  test("begins with question and answer", () => {
    expect(read.pages[0]).toContain("What are the field output factors of 9 fields");
    expect(read.pages[0]).toContain("The campaign is ● sound");
  });
});

describe("every kind of PDF", () => {
  test.each(DOCUMENT_KINDS)("%s: same campaign, same bytes", (kind) => {
    expect(pdfOf(kind)).toEqual(pdfOf(kind));
  });

  test("the output factors take two pages", async () => {
    const { pages } = await readPdf(pdfOf("output-factors"));
    expect(pages).toHaveLength(2);
    expect(pages[0]).toContain("Signature");
    expect(pages[0]).toContain("cone-12.5");
  });

  test("a date is written where one is given, and no clock is read where none is", async () => {
    const bytes = pdfOf("certificate", "2026-03-12");
    const dated = await readPdf(bytes);
    expect(dated.info["CreationDate"]).toBe("D:20260312");
    expect(dated.pages.join(" ")).toContain("Date: 2026-03-12");
    expect(read.info["CreationDate"]).toBeUndefined();
    expect(new TextDecoder("latin1").decode(record)).not.toMatch(/D:20\d\d|CreateDate/);
  });

  test("another campaign has another identifier and other bytes", () => {
    const [other, ofOther] = evaluated(({ tables }) => {
      tables["calibration"]!.rows[0]![7] = "10.4616";
    });
    const bytes = pdfFile(reportDocument(other, ofOther, { kind: "certificate" }), FONTS);
    const id = (own: Uint8Array) => /\/ID \[(<[0-9a-f]+>)/.exec(new TextDecoder("latin1").decode(own))?.[1];
    expect(id(bytes)).toMatch(/<[0-9a-f]{32}>/);
    expect(id(bytes)).not.toBe(id(pdfOf("certificate")));
  });
});

describe("text from the user in a PDF", () => {
  test("appears whole and harmless, what no font has by its number, with a note that says so", async () => {
    const [own, result] = evaluated(hostile);
    const { pages, info } = await readPdf(pdfFile(reportDocument(own, result, { kind: "record" }), FONTS));
    const text = close(pages.join(" "));
    expect(text).toContain(close(HOSTILE.markup));
    expect(text).toContain(close(HOSTILE.formula));
    expect(text).toContain(HOSTILE.long);
    expect(text).toContain("left⟨U+202E⟩turnedround⟨U+202C⟩end");
    expect(text).toContain("bell⟨U+0007⟩lineone↵linetwo");
    expect(text).toContain("⟨U+6F22⟩⟨U+5B57⟩and⟨U+1D518⟩");
    expect(pages.at(-1)).toMatch(/no font of this file has .*U\+1D518, U\+5B57, U\+6F22/);
    // letters of a script from right to left are all there, in whatever order a reader puts them
    for (const letter of new Set(HOSTILE.hebrew.replace(/[^\u0590-\u05FF]/g, ""))) expect(text).toContain(letter);
    expect(info["Title"]).toContain("<script>");
  });

  test("stands in the metadata as text, not as markup", () => {
    const [own, result] = evaluated(hostile);
    const bytes = pdfFile(reportDocument(own, result, { kind: "certificate" }), FONTS);
    const xmp = /<x:xmpmeta[\s\S]*<\/x:xmpmeta>/.exec(new TextDecoder().decode(bytes))![0];
    expect(xmp).toContain("&lt;script&gt;");
    expect(xmp).not.toContain("<script");
  });
});

test("a campaign of 277 readings is set on pages that all have room at their foot", async () => {
  const [own, result] = evaluated(manyReadings);
  const { pages } = await readPdf(pdfFile(reportDocument(own, result, { kind: "record" }), FONTS));
  const text = close(pages.join(" "));
  expect(own.tables["output-factors"]!.rows).toHaveLength(244);
  expect(own.tables["output-factors"]!.rows.filter(([id]) => !text.includes(id!))).toEqual([]);
  expect(pages.length).toBeLessThan(40);
});

test("a note that is longer than a page goes on over the next, with no word lost", async () => {
  const words = Array.from({ length: 2500 }, (_, i) => `w${i}.`);
  const [own, result] = evaluated(({ tables }) => {
    const { columns, rows } = tables["output-factors"]!;
    rows[7]![columns.indexOf("note")] = words.join(" ");
  });
  const { pages } = await readPdf(pdfFile(reportDocument(own, result, { kind: "record" }), FONTS));
  const text = pages.join(" ");
  expect(words.filter((word) => !text.includes(word))).toEqual([]);
});
