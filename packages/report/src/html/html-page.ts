import type { ReportDocument } from "../document/document.ts";
import { blocksHtml } from "./html-blocks.ts";
import { escaped } from "./html-text.ts";
import { styleSheet } from "./style-sheet.ts";

/** Contents are listed where there is more than this many sections. */
const LISTED_FROM = 5;

/**
 * A document as one HTML file that stands alone: no script, nothing from elsewhere, and a policy in it that forbids both.
 * Same document, same text.
 */
export function htmlPage(document: ReportDocument): string {
  const { type, title, campaign, input, version, marking, lead, sections } = document;
  const contents = sections.map(({ id, title: own }) => `<li><a href="#${id}">${escaped(own)}</a></li>`);
  return `${[
    "<!doctype html>",
    `<html lang="en">`,
    "<head>",
    `<meta charset="utf-8">`,
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">`,
    `<meta name="viewport" content="width=device-width, initial-scale=1">`,
    `<meta name="generator" content="alcedo ${escaped(version)}">`,
    `<title>${escaped(`${type}: ${title}${marking === undefined ? "" : ` (${marking})`}`)}</title>`,
    `<style>${styleSheet(document)}</style>`,
    "</head>",
    "<body>",
    ...(marking === undefined ? [] : [`<aside class="marking" aria-label="Marking">▲ ${escaped(marking)}</aside>`]),
    `<header><p class="type">alcedo · ${escaped(type)}</p>`,
    `<h1><bdi>${escaped(title)}</bdi></h1>`,
    `${blocksHtml(lead, "lead")}</header>`,
    ...(sections.length >= LISTED_FROM ? [`<nav aria-label="Contents"><ul>${contents.join("")}</ul></nav>`] : []),
    "<main>",
    ...sections.map(
      ({ id, title: own, blocks }) =>
        `<section id="${id}">\n<h2>${escaped(own)}</h2>\n${blocksHtml(blocks, id)}\n</section>`,
    ),
    "</main>",
    `<footer><p>${escaped(campaign)} · input <span class="number">${escaped(input)}</span> · alcedo ${escaped(version)}${marking === undefined ? "" : ` · ${escaped(marking)}`}</p></footer>`,
    "</body>",
    "</html>",
  ].join("\n")}\n`;
}
