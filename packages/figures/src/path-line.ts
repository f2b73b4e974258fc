import { line } from "d3-shape";

/** Points of the page as the `d` of a path, straight from one to the next. */
export function pathLine(points: readonly (readonly [number, number])[]): string {
  return line().digits(2)(points.map(([x, y]): [number, number] => [x, y])) ?? "";
}
