import { type DrawingElement, type Figure, ROLES } from "@alcedo-dosimetry/figures";
import { createElement, type ReactNode, useId } from "react";
import "./drawing.css";

/** What a figure on the page is made of. */
export interface DrawingProps {
  readonly figure: Figure;
  /** Leaves out the ground, where the figure lies on something else than a sheet. */
  readonly bare?: boolean;
}

/**
 * A figure as part of the page: its roles are the page's colours, so that it follows the theme of whatever it lies on.
 * Title and description name it to those who listen.
 */
export function Drawing({ figure, bare = false }: DrawingProps) {
  const id = useId();
  return (
    <svg
      className="drawing"
      viewBox={`0 0 ${figure.width} ${figure.height}`}
      role="img"
      aria-labelledby={`${id}-title ${id}-description`}
      fontSize="12"
    >
      <title id={`${id}-title`}>{figure.title}</title>
      <desc id={`${id}-description`}>{figure.description}</desc>
      {!bare && <rect width={figure.width} height={figure.height} fill="var(--paper)" />}
      {drawn(figure.root, "root")}
    </svg>
  );
}

function drawn({ name, attributes, children }: DrawingElement, key: string): ReactNode {
  const own = Object.fromEntries(Object.entries(attributes).map(([given, value]) => [camel(given), painted(value)]));
  const inside = children.map((child, k) => (typeof child === "string" ? child : drawn(child, `${k}`)));
  return createElement(name, { key, ...own }, ...inside);
}

/** React's name of an attribute: `stroke-width` → `strokeWidth`. */
const camel = (name: string) => name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());

/** The page's colour of a role; anything else stays. */
const painted = (value: string) => ((ROLES as readonly string[]).includes(value) ? `var(--${value})` : value);
