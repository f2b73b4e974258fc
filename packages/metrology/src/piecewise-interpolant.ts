import {
  ChebyshevEvaluator,
  type ChebyshevSum,
  chebyshevCoefficients,
  chebyshevNodes,
  chebyshevSum,
} from "./chebyshev.ts";
import { RandomStream } from "./random-stream.ts";

/** A stretch of one variable. */
export interface Side {
  readonly low: number;
  readonly high: number;
}

/** What is to be interpolated over a box of one to three variables. */
export interface Target {
  /** Its values at some points; not finite where it has none. */
  values(points: readonly (readonly number[])[]): ArrayLike<number>;
  /** The part of the trials that lies in a box. */
  share(box: readonly Side[]): number;
  /** What the interpolant may be off. */
  readonly tolerance: number;
  /** A part of the trials that is not worth an interpolant. */
  readonly spare: number;
  /** How many values may be asked for altogether. */
  readonly budget: number;
}

/** A box with an interpolant of its own, one that is cut in two, or one that has none. */
export type Piece =
  | { readonly kind: "sum"; readonly box: readonly Side[]; readonly sum: ChebyshevSum }
  | {
      readonly kind: "cut";
      readonly variable: number;
      readonly at: number;
      readonly below: Piece;
      readonly above: Piece;
    }
  | { readonly kind: "none"; readonly share: number };

/** A box while nobody knows yet what becomes of it. */
interface Open {
  readonly box: readonly Side[];
  readonly share: number;
  /** Sets what has become of it. */
  readonly settle: (piece: Piece) => void;
}

/** Nodes along a variable that are tried one after the other. */
const NODES: readonly number[] = [5, 7, 11, 17, 25];

/** The most nodes of a box. */
const POINTS = 1400;

/** Points apart from the nodes at which an interpolant is compared with its target. */
const CHECKS = 32;

/** The most corners of a box; they are among the checks. */
const CORNERS = 8;

/** How many times the tolerance an interpolant may be off at a corner. */
const LENIENCE = 10;

/**
 * Interpolants in Chebyshev polynomials, with more nodes along a variable as they are needed, and the box cut in two
 * where more do not help: where the target bends, ends or has no value. Each is compared with the target between its
 * nodes. Boxes with most trials come first, until the budget is used up.
 */
export function piecewiseInterpolant(target: Target, box: readonly Side[]): Piece {
  let root: Piece = { kind: "none", share: 1 };
  const settleRoot = (piece: Piece) => {
    root = piece;
  };
  const open: Open[] = [{ box, share: target.share(box), settle: settleRoot }];
  let left = target.budget;
  for (let next = open.shift(); next; next = open.shift()) {
    const { box: own, share, settle } = next;
    settle({ kind: "none", share });
    if (share <= target.spare) continue;
    const found = interpolated(target, own, left);
    left -= found.used;
    if (found.sum) settle({ kind: "sum", box: own, sum: found.sum });
    if (!found.cut) continue;
    const widths = own.map(({ low, high }, variable) => (high - low) / (box[variable]!.high - box[variable]!.low));
    for (const half of cutOf(target, own, chosen(found.cut, widths), settle)) {
      const place = open.findIndex((other) => other.share < half.share);
      open.splice(place < 0 ? open.length : place, 0, half);
    }
  }
  return root;
}

/** The halves of a box; the piece in its place is made anew whenever one of them is settled. */
function cutOf(target: Target, box: readonly Side[], variable: number, settle: (piece: Piece) => void): Open[] {
  const { low, high } = box[variable]!;
  const at = 0.5 * (low + high);
  const boxes = [box.with(variable, { low, high: at }), box.with(variable, { low: at, high })];
  const pieces = boxes.map((own): Piece => ({ kind: "none", share: target.share(own) }));
  return boxes.map((own, i) => ({
    box: own,
    share: target.share(own),
    settle: (piece) => {
      pieces[i] = piece;
      settle({ kind: "cut", variable, at, below: pieces[0]!, above: pieces[1]! });
    },
  }));
}

/**
 * The interpolant of one box, with as many nodes as it takes.
 * @param most how many values may be asked for.
 * @returns either the sum, or how much is to be said for a cut along each variable, or neither where nothing is to be had.
 */
function interpolated(target: Target, box: readonly Side[], most: number) {
  const levels = box.map(() => 0);
  let used = 0;
  for (;;) {
    const counts = levels.map((level) => NODES[level]!);
    const points = gridOf(box, counts);
    if (used + points.length + CHECKS > most) return { used };
    used += points.length + CHECKS;
    const values = Float64Array.from(target.values(points));
    const finite = values.reduce((count, value) => count + (Number.isFinite(value) ? 1 : 0), 0);
    if (finite === 0) return { used };
    if (finite < values.length) return { used, cut: unevenness(values, counts) };
    const sum = chebyshevSum(chebyshevCoefficients(values, counts), counts, 0.5 * target.tolerance);
    // where one of the two highest orders matters there may be more beyond (two: even functions lack every other one)
    const short = counts.findIndex((n, variable) => sum.degrees[variable]! >= n - 2);
    if (short < 0) return isGood(target, box, sum) ? { used, sum } : { used, cut: sum.degrees };
    const more = counts.with(short, NODES[levels[short]! + 1] ?? Number.POSITIVE_INFINITY);
    if (more.reduce((product, n) => product * n) > POINTS) return { used, cut: sum.degrees };
    levels[short]!++;
  }
}

/** The part of the trials that has no interpolant. */
export function shareWithout(piece: Piece): number {
  if (piece.kind === "none") return piece.share;
  return piece.kind === "sum" ? 0 : shareWithout(piece.below) + shareWithout(piece.above);
}

/** Points at all combinations of the nodes, the last variable running fastest. */
function gridOf(box: readonly Side[], counts: readonly number[]): number[][] {
  return counts.reduce<number[][]>(
    (points, n, variable) => {
      const nodes = [...chebyshevNodes(n)].map((node) => within(box[variable]!, node));
      return points.flatMap((point) => nodes.map((node) => [...point, node]));
    },
    [[]],
  );
}

/** From −1…1 to a side. */
function within({ low, high }: Side, x: number): number {
  return 0.5 * (low + high + x * (high - low));
}

/** At points between the nodes, and at the corners: these the nodes do not reach, and few trials do. */
function isGood(target: Target, box: readonly Side[], sum: ChebyshevSum): boolean {
  const stream = new RandomStream("checks of an interpolant");
  const inside = Array.from({ length: CHECKS - CORNERS }, () => box.map(() => 2 * stream.nextFraction() - 1));
  const corners = box.reduce<number[][]>((all) => all.flatMap((point) => [-1, 1].map((x) => [...point, x])), [[]]);
  const places = [...inside, ...corners];
  const values = target.values(places.map((place) => place.map((x, variable) => within(box[variable]!, x))));
  const evaluator = new ChebyshevEvaluator(sum);
  return places.every((place, i) => {
    place.forEach((x, variable) => {
      evaluator.place(variable, x);
    });
    const allowed = target.tolerance * (i < inside.length ? 1 : LENIENCE);
    return Math.abs(evaluator.value() - values[i]!) <= allowed;
  });
}

/** How much the number of finite values changes along each variable. */
function unevenness(values: Float64Array, counts: readonly number[]): number[] {
  let stride = values.length;
  return counts.map((n) => {
    stride /= n;
    const found = new Array<number>(n).fill(0);
    values.forEach((value, place) => {
      if (Number.isFinite(value)) found[Math.floor(place / stride) % n]! += n;
    });
    return Math.max(...found) - Math.min(...found);
  });
}

/** Of the variables for which more than half as much is to be said as for the best, the one that was cut least. */
function chosen(reasons: readonly number[], widths: readonly number[]): number {
  const least = 0.5 * Math.max(...reasons);
  let best = 0;
  let width = -1;
  reasons.forEach((reason, variable) => {
    if (reason >= least && widths[variable]! > width) {
      best = variable;
      width = widths[variable]!;
    }
  });
  return best;
}
