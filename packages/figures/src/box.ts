/** A rectangle on the page. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The right edge of a box. */
export const rightOf = ({ left, width }: Box) => left + width;

/** The lower edge of a box. */
export const bottomOf = ({ top, height }: Box) => top + height;

/** Whether two boxes share more than an edge. */
export function overlap(a: Box, b: Box): boolean {
  return a.left < rightOf(b) && b.left < rightOf(a) && a.top < bottomOf(b) && b.top < bottomOf(a);
}

/** Whether the first box lies within the second. */
export function within(inner: Box, outer: Box): boolean {
  return (
    inner.left >= outer.left &&
    inner.top >= outer.top &&
    rightOf(inner) <= rightOf(outer) &&
    bottomOf(inner) <= bottomOf(outer)
  );
}

/** A box about a point. */
export function around(x: number, y: number, halfWidth: number, halfHeight = halfWidth): Box {
  return { left: x - halfWidth, top: y - halfHeight, width: 2 * halfWidth, height: 2 * halfHeight };
}

/** Boxes along a line, small enough that what keeps off them keeps off the line. */
export function along(points: readonly (readonly [number, number])[], step = 6): Box[] {
  return points.slice(1).flatMap(([x, y], i) => {
    const [fromX, fromY] = points[i]!;
    const pieces = Math.max(1, Math.ceil(Math.max(Math.abs(x - fromX), Math.abs(y - fromY)) / step));
    return Array.from({ length: pieces + 1 }, (_, k) =>
      around(fromX + ((x - fromX) * k) / pieces, fromY + ((y - fromY) * k) / pieces, 2),
    );
  });
}
