import { expect } from "vitest";
import { overlap, within } from "../box.ts";
import type { DrawingElement, Figure } from "../figure.ts";
import { textBoxes } from "./text-boxes.ts";

/** What holds for every figure: no text leaves the page, none lies on another, and nothing is drawn with a colour. */
export function expectReadable(figure: Figure): void {
  const texts = textBoxes(figure);
  const page = { left: 0, top: 0, width: figure.width, height: figure.height };
  expect(texts.filter(({ box }) => !within(box, page)).map(({ text }) => text)).toEqual([]);
  const clashes = texts.flatMap((a, i) =>
    texts
      .slice(i + 1)
      .filter((b) => overlap(a.box, b.box))
      .map((b) => `${a.text} | ${b.text}`),
  );
  expect(clashes).toEqual([]);
}

/** All elements of a figure in the order in which they are painted. */
export function elementsOf({ root }: Figure): DrawingElement[] {
  const walk = (element: DrawingElement): DrawingElement[] => [
    element,
    ...element.children.flatMap((child) => (typeof child === "string" ? [] : walk(child))),
  ];
  return walk(root);
}

/** What a pointer is told, mark by mark. */
export function titlesOf(figure: Figure): string[] {
  return elementsOf(figure)
    .filter(({ name }) => name === "title")
    .map(({ children }) => children.filter((child) => typeof child === "string").join(""));
}
