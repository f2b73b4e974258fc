import type { FibrePath } from "./fibre-path.ts";
import { rounded } from "./rounded.ts";

/**
 * A path with rounded corners as the `d` of a path element.
 * @param place from the path's own lengths to the page, which turns y over.
 * @param scale page over own lengths.
 */
export function roundedPath(
  { corners, radius }: FibrePath,
  place: (x: number, y: number) => readonly [number, number],
  scale: number,
): string {
  const points = corners.map(([x, y]) => place(x, y));
  const text = ([x, y]: readonly [number, number]) => `${rounded(x)} ${rounded(y)}`;
  const r = radius * scale;
  return points
    .map((point, i) => {
      const [before, after] = [points[i - 1], points[i + 1]];
      if (!before) return `M${text(point)}`;
      if (!after || r === 0) return `L${text(point)}`;
      const [ax, ay] = towards(point, before, r);
      const [bx, by] = towards(point, after, r);
      const turn = (point[0] - before[0]) * (after[1] - point[1]) - (point[1] - before[1]) * (after[0] - point[0]);
      return `L${text([ax, ay])}A${rounded(r)} ${rounded(r)} 0 0 ${turn > 0 ? 1 : 0} ${text([bx, by])}`;
    })
    .join("");
}

/** The point that lies a distance from one point in the direction of another. */
function towards(
  [x, y]: readonly [number, number],
  [toX, toY]: readonly [number, number],
  distance: number,
): [number, number] {
  const [dx, dy] = [toX - x, toY - y];
  const length = Math.sqrt(dx * dx + dy * dy);
  return [x + (dx / length) * distance, y + (dy / length) * distance];
}
