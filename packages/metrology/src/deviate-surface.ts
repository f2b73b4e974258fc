import { type ChebyshevSum, chebyshevCoefficients, chebyshevNodes, chebyshevSum } from "./chebyshev.ts";

/** Standard deviations within which a surface is known; the few deviates beyond, two in 10⁹, count as the last. */
export const SURFACE_REACH = 6;

/** A function of one or two independent standard normal deviates, each over {@link SURFACE_REACH}, in Chebyshev polynomials. */
export type DeviateSurface = ChebyshevSum;

/** Nodes along a deviate that are tried one after the other. */
const NODES: readonly number[] = [5, 7, 9, 13, 19, 27, 39];

/**
 * The surface of a function of normal deviates.
 *
 * @param deviates how many, one or two.
 * @param tolerance what it may be off; nodes are added until the highest orders matter no more, or there are none left.
 */
export function deviateSurface(
  value: (first: number, second: number) => number,
  deviates: 1 | 2,
  tolerance: number,
): DeviateSurface {
  for (const n of NODES) {
    const counts = deviates === 1 ? [n] : [n, n];
    const nodes = chebyshevNodes(n).map((node) => SURFACE_REACH * node);
    const seconds = deviates === 1 ? Float64Array.of(0) : nodes;
    const values = new Float64Array(n * seconds.length);
    nodes.forEach((first, i) => {
      seconds.forEach((second, j) => {
        values[i * seconds.length + j] = value(first, second);
      });
    });
    const sum = chebyshevSum(chebyshevCoefficients(values, counts), counts, 0.5 * tolerance);
    // two orders to spare: an even function lacks every other one
    if (n === NODES.at(-1) || sum.degrees.every((degree) => degree < n - 2)) return sum;
  }
  throw new Error("no numbers of nodes to try");
}
