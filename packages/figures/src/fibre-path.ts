/** A path with right-angled corners that are all rounded with one radius. */
export interface FibrePath {
  /** From the active volume at the origin to where the fibre leaves the field; lengths in mm, y upwards. */
  readonly corners: readonly (readonly [number, number])[];
  readonly radius: number;
}

/** By how much a rounded right-angled corner is shorter than a sharp one, over its radius: 2 − π/2. */
const SHORTER = 2 - Math.PI / 2;

/**
 * A path of just the given length from the centre of a field down to its edge, in bends where the straight way is shorter.
 * Nobody states how a fibre lies, only how much of it the beam sees; this is a stand-in with that length.
 *
 * @param length of fibre in the beam, in mm.
 * @param edge distance from the centre to the edge, in mm.
 * @param aside how far a bend may reach to either side, in mm.
 * @param closest how close two runs may come, in mm.
 * @returns undefined where so much fibre does not fit.
 */
export function fibrePath(length: number, edge: number, aside: number, closest: number): FibrePath | undefined {
  if (length <= edge)
    return {
      corners: [
        [0, 0],
        [0, -length],
      ],
      radius: 0,
    };
  const extra = length - edge;
  const [first, span] = [0.14 * edge, 0.66 * edge];
  for (let bends = 1; span / bends >= closest; bends++) {
    const radius = Math.min(span / bends / 2, 0.08 * edge, extra / (2 * bends) / (2 - ((bends + 1) / bends) * SHORTER));
    const reach = (extra + 2 * (bends + 1) * SHORTER * radius) / (2 * bends);
    if (reach > aside) continue;
    const corners: [number, number][] = [[0, 0]];
    let side = 1;
    let x = 0;
    for (let run = 0; run <= bends; run++) {
      const y = -first - (span * run) / bends;
      const to = run === bends ? 0 : side * reach;
      corners.push([x, y], [to, y]);
      x = to;
      side = -side;
    }
    corners.push([0, -edge]);
    return { corners, radius };
  }
  return undefined;
}
