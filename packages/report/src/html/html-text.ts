import type { Run, Text, Tone } from "../document/document.ts";
import { harmless, runsOf } from "../document/text.ts";

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Any text as HTML, in an element or in a quoted attribute: whole, and nothing but text. */
export function escaped(text: string): string {
  return harmless(text).replace(/[&<>"']/g, (character) => ENTITIES[character]!);
}

const WRAPPERS: Readonly<Record<Tone, (inner: string) => string>> = {
  strong: (inner) => `<strong>${inner}</strong>`,
  dim: (inner) => `<span class="dim">${inner}</span>`,
  number: (inner) => `<span class="number">${inner}</span>`,
  sub: (inner) => `<sub>${inner}</sub>`,
  user: (inner) => `<bdi>${inner}</bdi>`,
  attention: (inner) => `<strong class="attention">${inner}</strong>`,
};

/** Text of a block or cell as HTML. */
export function textHtml(text: Text): string {
  return runsOf(text).map(runHtml).join("");
}

function runHtml({ text, tone }: Run): string {
  const inner = escaped(text);
  return tone === undefined || inner === "" ? inner : WRAPPERS[tone](inner);
}
