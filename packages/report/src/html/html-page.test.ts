import { concise } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { DOCUMENT_KINDS, type DocumentKind } from "../document/document.ts";
import { reportDocument } from "../report-document.ts";
import { evaluated, HOSTILE, hostile } from "../testing/demonstration.ts";
import { htmlPage } from "./html-page.ts";

const [campaign, evaluation] = evaluated();
const pageOf = (kind: DocumentKind, date?: string) =>
  htmlPage(reportDocument(campaign, evaluation, { kind, ...(date !== undefined && { date }) }));
const words = (html: string) => html.replace(/<[^>]*>/g, "").replace(/\s/g, "");
const record = pageOf("record");

describe("the HTML of a report", () => {
  test("holds every result", () => {
    const text = words(record);
    const missing = evaluation.result.quantities.filter(
      ({ value, u }) => !text.includes(concise(value, u).replace(/\s/g, "")),
    );
    expect(missing).toEqual([]);
  });

  test.each(DOCUMENT_KINDS)("%s stands alone: no script, no style attribute, nothing from elsewhere", (kind) => {
    const html = pageOf(kind);
    expect(html).not.toMatch(/<script|<link|<img|<iframe|<object|\sstyle=|\son\w+=|javascript:|@import|url\(/i);
    // names of XML vocabularies are no addresses that anything is fetched from
    expect(html.replaceAll('xmlns="http://www.w3.org/2000/svg"', "")).not.toMatch(/https?:\/\//);
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'`);
  });

  test.each(DOCUMENT_KINDS)("%s: same campaign, same text", (kind) => {
    expect(pageOf(kind)).toBe(pageOf(kind));
  });

  test("has one h1, a language, captions, heads with scope, and ids that are there once", () => {
    expect(record.match(/<h1>/g)).toHaveLength(1);
    expect(record).toContain('<html lang="en">');
    expect(record.match(/<table[ >]/g)!.length).toBe(record.match(/<caption /g)!.length);
    expect(record).not.toMatch(/<th(?! scope=)(?=[ >])/);
    const ids = [...record.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("bears digest, version, page numbers and the marking on every printed page", () => {
    const style = /<style>([\s\S]*)<\/style>/.exec(record)![1]!;
    expect(style).toContain(`@bottom-left{content:"${evaluation.result.input}"`);
    expect(style).toContain(`alcedo ${evaluation.result.alcedo} · page " counter(page) " of " counter(pages)`);
    expect(style).toContain("▲ INVENTED DATA: measured nowhere, not for use");
  });

  test("is not marked where the data do not call themselves invented", () => {
    const [own, result] = evaluated(({ descriptor }) => {
      descriptor.keywords = [];
    });
    expect(htmlPage(reportDocument(own, result, { kind: "record" }))).not.toContain("INVENTED DATA");
  });

  test("leaves a line for the date, or bears the one it was given", () => {
    expect(record).toContain('<span>Date:</span><span class="line"></span>');
    expect(pageOf("record", "2026-03-12")).toContain('<span class="line">2026-03-12</span>');
  });

  test("shows text from the user whole, and as text", () => {
    const [own, result] = evaluated(hostile);
    const html = htmlPage(reportDocument(own, result, { kind: "record" }));
    expect(html).not.toMatch(/<script|<img|onerror="/);
    expect(html).toContain("&lt;script&gt;document.title=&quot;harm&quot;&lt;/script&gt;");
    for (const text of [HOSTILE.hebrew, HOSTILE.arabic, HOSTILE.long, HOSTILE.unknown])
      expect(html).toContain(`<bdi>${text}</bdi>`);
    expect(html).toContain("left ⟨U+202E⟩turned round⟨U+202C⟩ end");
    expect(html).toContain("bell⟨U+0007⟩ line one ↵ line two");
    expect(html.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\u202A-\u202E\u2066-\u2069]/u);
  });
});
