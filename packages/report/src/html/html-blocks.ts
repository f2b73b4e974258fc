import { svgText } from "@alcedo-dosimetry/figures";
import type { Block } from "../document/document.ts";
import { tableHtml } from "./html-table.ts";
import { escaped, textHtml } from "./html-text.ts";

/** The blocks of a section as HTML. Figures that follow each other stand side by side where there is room. */
export function blocksHtml(blocks: readonly Block[], prefix: string): string {
  const parts: string[] = [];
  let gallery: string[] = [];
  const close = () => {
    if (gallery.length > 0) parts.push(`<div class="figures">\n${gallery.join("\n")}\n</div>`);
    gallery = [];
  };
  blocks.forEach((block, i) => {
    const html = blockHtml(block, `${prefix}-${i + 1}`);
    if (block.kind === "figure") gallery.push(html);
    else {
      close();
      parts.push(html);
    }
  });
  close();
  return parts.join("\n");
}

function blockHtml(block: Block, id: string): string {
  switch (block.kind) {
    case "heading":
      return `<h${block.level + 1}>${textHtml(block.text)}</h${block.level + 1}>`;
    case "paragraph":
      return `<p${block.tone === undefined ? "" : ` class="${block.tone}"`}>${textHtml(block.text)}</p>`;
    case "facts":
      return `<dl>\n${block.facts.map(([term, value]) => `<div><dt>${escaped(term)}</dt><dd>${textHtml(value)}</dd></div>`).join("\n")}\n</dl>`;
    case "formula":
      return `<div class="formula">\n${block.lines.map((line) => `<p>${textHtml(line)}</p>`).join("\n")}\n</div>`;
    case "figure": {
      const { title } = block.figure;
      const svg = svgText(block.figure, "light", { idPrefix: `${id}-` });
      const label = `aria-label="${escaped(`Figure: ${title}`)}"`;
      return `<figure><div class="scroll" role="region" tabindex="0" ${label}>${svg.trim()}</div></figure>`;
    }
    case "finding":
      return `<div class="finding ${block.level}">\n${block.parts.map((part) => `<p>${textHtml(part)}</p>`).join("\n")}\n</div>`;
    case "blank":
      return `<p class="blank"><span>${escaped(block.label)}:</span><span class="line"></span></p>`;
    case "signatures":
      return block.roles.map((role) => signatureHtml(role, block.date)).join("\n");
    case "page-break":
      return `<hr class="page-break">`;
    case "table":
      return tableHtml(block, id);
  }
}

function signatureHtml(role: string, date: string | undefined): string {
  const line = (label: string, value = "") =>
    `<p class="blank"><span>${label}:</span><span class="line">${escaped(value)}</span></p>`;
  return `<div class="signature">\n<p><strong>${escaped(role)}</strong></p>\n${line("Name")}\n${line("Signature")}\n${line("Date", date)}\n</div>`;
}
