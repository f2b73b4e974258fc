import { area } from "d3-shape";
import { element } from "./element.ts";
import type { DrawingElement } from "./figure.ts";
import { pathLine } from "./path-line.ts";

/** One place of a band, in the units of the page. */
export interface BandPlace {
  readonly x: number;
  readonly low: number;
  readonly high: number;
}

/** A band between two lines: a tint for the eye, and its edges dashed so that it is there in grey and in print. */
export function band(places: readonly BandPlace[]): DrawingElement[] {
  const shape = area<BandPlace>()
    .x(({ x }) => x)
    .y0(({ low }) => low)
    .y1(({ high }) => high)
    .digits(2);
  const edge = (side: "low" | "high") =>
    element("path", {
      d: pathLine(places.map((place) => [place.x, place[side]])),
      fill: "none",
      stroke: "muted",
      "stroke-width": 1,
      "stroke-dasharray": "3 3",
    });
  return [
    element("path", { d: shape([...places]) ?? "", fill: "grid", "fill-opacity": "0.45", stroke: "none" }),
    edge("low"),
    edge("high"),
  ];
}
