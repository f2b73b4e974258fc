import type { ActiveVolume, VolumePoints } from "./active-volume.ts";
import type { Placement } from "./placement.ts";
import { averageOf, type PlainField } from "./plain-field.ts";

type Rule = readonly { readonly node: number; readonly weight: number }[];

/** The five-point Gauss–Hermite rule, for a standard normal deviate (Abramowitz and Stegun, table 25.10). */
const HERMITE: Rule = [
  { node: -Math.sqrt(5 + Math.sqrt(10)), weight: (7 - 2 * Math.sqrt(10)) / 60 },
  { node: -Math.sqrt(5 - Math.sqrt(10)), weight: (7 + 2 * Math.sqrt(10)) / 60 },
  { node: 0, weight: 8 / 15 },
  { node: Math.sqrt(5 - Math.sqrt(10)), weight: (7 + 2 * Math.sqrt(10)) / 60 },
  { node: Math.sqrt(5 + Math.sqrt(10)), weight: (7 - 2 * Math.sqrt(10)) / 60 },
];

/** The same for a function of the deviate's size alone. */
const HALF_HERMITE: Rule = HERMITE.slice(2).map(({ node, weight }) => ({
  node,
  weight: node > 0 ? 2 * weight : weight,
}));

/** The three-point Gauss–Laguerre rule (Abramowitz and Stegun, table 25.9): half the square of the distance is so distributed. */
const LAGUERRE: Rule = [
  { node: 0.415774556783, weight: 0.711093009929 },
  { node: 2.29428036028, weight: 0.278517733569 },
  { node: 6.28994508294, weight: 0.0103892565016 },
];

/** sd(L)/E[L], on plain numbers: it is a standard uncertainty and needs no derivative. */
export function placementSpread(
  field: PlainField,
  points: VolumePoints,
  { axis }: ActiveVolume,
  { offset: [dx, dy], u }: Placement,
): number {
  const centred = dx === 0 && dy === 0;
  const round = centred && field.shape === "circle" && axis === "along-beam";
  const places = round
    ? LAGUERRE.map(({ node, weight }) => ({ x: u * Math.sqrt(2 * node), y: 0, weight }))
    : pairs(dx, dy, u);
  const doses = places.map(({ x, y }) => averageOf(field, points, x, y));
  const average = places.reduce((total, { weight }, p) => total + weight * doses[p]!, 0);
  const variance = places.reduce((total, { weight }, p) => {
    const off = doses[p]! - average;
    return total + weight * off * off;
  }, 0);
  return Math.sqrt(variance) / average;
}

/** Places by Gauss–Hermite along both axes; without an offset both signs of a displacement are alike. */
function pairs(dx: number, dy: number, u: number) {
  const [along, across] = [dx, dy].map((own) => (own === 0 ? HALF_HERMITE : HERMITE)) as [Rule, Rule];
  return along.flatMap((a) =>
    across.map((b) => ({ x: dx + u * a.node, y: dy + u * b.node, weight: a.weight * b.weight })),
  );
}
