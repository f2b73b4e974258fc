import type { Box } from "../box.ts";
import type { DrawingElement, Figure } from "../figure.ts";
import { labelWidth } from "../label.ts";

/** A text of a figure with the room that it takes, by the package's own measure of text. */
export interface PlacedText {
  readonly text: string;
  readonly box: Box;
}

/** Every text of a figure, headings and ticks included. */
export function textBoxes({ root }: Figure): PlacedText[] {
  const found: PlacedText[] = [];
  const walk = (element: DrawingElement): void => {
    if (element.name === "text") found.push(placed(element));
    for (const child of element.children) if (typeof child !== "string") walk(child);
  };
  walk(root);
  return found.filter(({ text }) => text !== "");
}

function placed({ attributes, children }: DrawingElement): PlacedText {
  const text = children.filter((child) => typeof child === "string").join("");
  const size = Number(attributes["font-size"]);
  const width = labelWidth(text, { size, ...(attributes["font-weight"] && { weight: "bold" as const }) });
  const [x, y] = [Number(attributes["x"]), Number(attributes["y"])];
  const anchor = attributes["text-anchor"] ?? "start";
  const before = anchor === "middle" ? width / 2 : anchor === "end" ? width : 0;
  // from the baseline: three quarters of the size upwards, a fifth downwards
  const [up, down] = [0.75 * size, 0.2 * size];
  if (attributes["transform"])
    return { text, box: { left: x - up, top: y - (width - before), width: up + down, height: width } };
  return { text, box: { left: x - before, top: y - up, width, height: up + down } };
}
