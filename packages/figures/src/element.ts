import type { DrawingElement } from "./figure.ts";
import { rounded } from "./rounded.ts";

/** What an attribute may be given as: a number is a length and is rounded; undefined leaves it out. */
type Given = string | number | undefined;

/** An element of a drawing. */
export function element(
  name: string,
  attributes: Readonly<Record<string, Given>> = {},
  children: readonly (DrawingElement | string)[] = [],
): DrawingElement {
  const written = Object.entries(attributes).flatMap(([key, value]) =>
    value === undefined ? [] : [[key, typeof value === "number" ? rounded(value) : value] as const],
  );
  return { name, attributes: Object.fromEntries(written), children };
}

/** Elements that belong together, with words for who points at them. */
export function group(children: readonly DrawingElement[], title?: string): DrawingElement {
  return element("g", {}, title === undefined ? children : [element("title", {}, [title]), ...children]);
}
