import type { Cell, Column, Row, TableBlock } from "../document/document.ts";
import { plainText } from "../document/text.ts";
import { textHtml } from "./html-text.ts";

/** Width of a full bar in CSS pixels. */
const BAR = 60;

/** Names and times of up to so many letters are not broken. */
const WHOLE = 28;
/** A word of more letters is broken where it must be. */
const LONG = 22;
/** On paper a table of so many columns is set smaller. */
const WIDE = 10;
/** On paper a table of so many rows is not parted. */
const SMALL = 14;

/** A table in a region of its own, which scrolls where the screen is narrow and can be reached by keyboard. */
export function tableHtml({ caption, columns, rows, legend }: TableBlock, id: string): string {
  const names = columns.map((column, c) => classes(column, rows, c));
  const head = columns.map((column, c) => headHtml(column, names[c]!)).join("");
  const body = rows.map((row) => rowHtml(row, names)).join("\n");
  return [
    `<div class="scroll${rows.length <= SMALL ? " small" : ""}" role="region" tabindex="0" aria-labelledby="${id}">`,
    `<table${columns.length >= WIDE ? ' class="wide"' : ""}><caption id="${id}">${textHtml(caption)}</caption>`,
    `<thead><tr>${head}</tr></thead>`,
    `<tbody>\n${body}\n</tbody></table>`,
    "</div>",
    ...(legend === undefined || plainText(legend) === "" ? [] : [`<p class="legend">${textHtml(legend)}</p>`]),
  ].join("\n");
}

/** The classes of a column: what it holds, and whether its words stay whole or must be broken. */
function classes({ kind, channel }: Column, rows: readonly Row[], place: number): string {
  const texts = rows.flatMap(({ cells }) => {
    const cell = cells[place]!;
    return typeof cell === "object" && "bar" in cell ? [] : [plainText(cell)];
  });
  const whole = kind === "code" && texts.every((text) => text.length <= WHOLE) ? ["whole"] : [];
  const broken = texts.some((text) => text.split(/[\s-]/).some((word) => word.length > LONG)) ? ["broken"] : [];
  return [
    kind,
    ...whole,
    ...(whole.length > 0 ? [] : broken),
    ...(channel === undefined ? [] : [`channel-${channel}`]),
  ].join(" ");
}

function headHtml({ head }: Column, name: string): string {
  const text = textHtml(head);
  return text === "" ? `<td class="${name}"></td>` : `<th scope="col" class="${name}">${text}</th>`;
}

function rowHtml({ cells, tone }: Row, names: readonly string[]): string {
  const own = cells.map((cell, i) => cellHtml(cell, names[i]!, i === 0)).join("");
  return `<tr${tone === undefined ? "" : ` class="${tone}"`}>${own}</tr>`;
}

function cellHtml(cell: Cell, name: string, first: boolean): string {
  if (typeof cell === "object" && "bar" in cell) return `<td class="bar">${barHtml(cell.bar)}</td>`;
  const inner = textHtml(cell);
  return first && inner !== "" ? `<th scope="row" class="${name}">${inner}</th>` : `<td class="${name}">${inner}</td>`;
}

/** A share as a bar; the figure beside it says the same. */
function barHtml(share: number): string {
  const width = Math.round(10 * BAR * Math.min(1, Math.abs(share))) / 10;
  return `<svg class="share" width="${BAR}" height="8" viewBox="0 0 ${BAR} 8" aria-hidden="true" focusable="false"><rect width="${width}" height="8"/></svg>`;
}
