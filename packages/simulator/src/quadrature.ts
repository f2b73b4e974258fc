import { cos } from "./special.ts";

/** Nodes on [−1, 1] and weights that sum to 2. */
export interface Rule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/** The Gauss–Legendre rule of so many points: the zeros of P_n by Newton's method. */
export function gaussLegendre(points: number): Rule {
  const pairs = Array.from({ length: points }, (_, i) => {
    let x = cos((Math.PI * (points - i - 0.25)) / (points + 0.5));
    let slope = 0;
    for (let step = 0; step < 100; step++) {
      let before = 1;
      let value = x;
      for (let k = 2; k <= points; k++) [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
      slope = (points * (x * value - before)) / (x * x - 1);
      const change = value / slope;
      x -= change;
      if (Math.abs(change) < 1e-15) break;
    }
    return { x, weight: 2 / ((1 - x * x) * slope * slope) };
  });
  return { nodes: pairs.map(({ x }) => x), weights: pairs.map(({ weight }) => weight) };
}

const SIXTEEN = gaussLegendre(16);

/** ∫ f from `from` to `to` in panels no longer than `panel`, 16 points each; 0 where `to` ≤ `from`. */
export function integral(f: (x: number) => number, from: number, to: number, panel: number): number {
  if (!(to > from)) return 0;
  const panels = Math.ceil((to - from) / panel);
  const half = (to - from) / panels / 2;
  let total = 0;
  for (let p = 0; p < panels; p++) {
    const middle = from + (2 * p + 1) * half;
    for (let i = 0; i < 16; i++) total += SIXTEEN.weights[i]! * f(middle + half * SIXTEEN.nodes[i]!);
  }
  return total * half;
}
