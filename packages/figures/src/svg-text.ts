import type { DrawingElement, Figure } from "./figure.ts";
import { plainText } from "./plain-text.ts";
import { ROLES, type Role } from "./role.ts";
import { rounded } from "./rounded.ts";
import { COLOURS, type Theme } from "./theme.ts";

/** How a figure is written. */
export interface SvgOptions {
  /** Goes before every id, so that several figures, or one twice, can stand in one document. Default none. */
  readonly idPrefix?: string;
}

/** Families that any system can replace; the first is the house's own. */
const SANS = "'IBM Plex Sans', 'Helvetica Neue', Arial, sans-serif";

/**
 * A figure as the text of a self-contained `<svg>`: fit for a file of its own, for embedding in HTML and for a PDF.
 *
 * Presentation attributes alone: no style, class, script, foreign object or `currentColor`, so that nothing of it is
 * blocked by a strict content security policy. The title and the description name it to assistive technology.
 *
 * @throws Error where an element is painted with something that is no role.
 */
export function svgText(figure: Figure, theme: Theme, { idPrefix = "" }: SvgOptions = {}): string {
  const id = (part: string) => `${asId(`${idPrefix}${figure.id}`)}-${part}`;
  const size = { width: rounded(figure.width), height: rounded(figure.height) };
  const root: DrawingElement = {
    name: "svg",
    attributes: {
      xmlns: "http://www.w3.org/2000/svg",
      ...size,
      viewBox: `0 0 ${size.width} ${size.height}`,
      role: "img",
      "aria-labelledby": `${id("title")} ${id("description")}`,
      "font-family": SANS,
      "font-size": "12",
    },
    children: [
      { name: "title", attributes: { id: id("title") }, children: [figure.title] },
      { name: "desc", attributes: { id: id("description") }, children: [figure.description] },
      { name: "rect", attributes: { ...size, fill: "paper" }, children: [] },
      figure.root,
    ],
  };
  return `${written(root, theme)}\n`;
}

function written({ name, attributes, children }: DrawingElement, theme: Theme): string {
  const own = Object.entries(attributes).map(([key, value]) => ` ${key}="${escaped(painted(key, value, theme))}"`);
  if (children.length === 0) return `<${name}${own.join("")}/>`;
  const inner = children.map((child) => (typeof child === "string" ? escaped(child) : written(child, theme)));
  return `<${name}${own.join("")}>${inner.join("")}</${name}>`;
}

/** The colour of a role where an attribute paints. */
function painted(attribute: string, value: string, theme: Theme): string {
  if ((attribute !== "fill" && attribute !== "stroke") || value === "none") return value;
  if (!isRole(value)) throw new Error(`${attribute}="${value}": a drawing is painted with roles, such as ink`);
  return COLOURS[theme][value];
}

const isRole = (text: string): text is Role => (ROLES as readonly string[]).includes(text);

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

const escaped = (text: string) => plainText(text).replace(/[&<>"]/g, (character) => ENTITIES[character]!);

/** An id without blanks or anything that a selector would stumble over. */
const asId = (text: string) =>
  text.replace(/[^A-Za-z0-9_.-]/gu, (character) => `_${character.codePointAt(0)!.toString(16)}_`);
