import { fUpperTail } from "./special.ts";

/** Variances of one condition's repeats, by column, on the scale on which conditions are compared. */
export interface Spread {
  readonly variances: readonly number[];
  readonly dof: number;
  /** What the display's last digit alone would give: no other condition is taken to be quieter than that. */
  readonly least: readonly number[];
}

const LEVEL = 0.01;

/**
 * Which conditions scatter more than the others: by the F test of each condition and column against all the others
 * together, the smallest p counting (Šidák) as one of conditions × columns; the worst is set aside and the rest judged
 * anew.
 *
 * @returns places of the conditions that fail at p < 0.01.
 */
export function unevenConditions(spreads: readonly Spread[]): Set<number> {
  const uneven = new Set<number>();
  for (;;) {
    const left = spreads.map((_, i) => i).filter((i) => spreads[i]!.dof > 0 && !uneven.has(i));
    if (left.length < 2) return uneven;
    const judged = left
      .map((i) => ({ i, ...worstColumn(spreads, left, i) }))
      .sort((a, b) => a.p - b.p || b.ratio - a.ratio || a.i - b.i);
    const worst = judged[0]!;
    if (!fails(worst.p, left.length * spreads[worst.i]!.variances.length)) return uneven;
    uneven.add(worst.i);
  }
}

function worstColumn(spreads: readonly Spread[], left: readonly number[], i: number): { p: number; ratio: number } {
  const own = spreads[i]!;
  const others = left.filter((j) => j !== i).map((j) => spreads[j]!);
  const dof = others.reduce((sum, other) => sum + other.dof, 0);
  let worst = { p: 2, ratio: 0 };
  own.variances.forEach((variance, c) => {
    const rest = others.reduce((sum, other) => sum + other.dof * other.variances[c]!, 0) / dof;
    const ratio = variance === 0 ? 0 : variance / Math.max(rest, own.least[c]!);
    const p = fUpperTail(ratio, own.dof, dof);
    if (p < worst.p) worst = { p, ratio };
  });
  return worst;
}

/** `1 − (1 − p)ⁿ < 0.01`. */
function fails(p: number, n: number): boolean {
  let none = 1;
  for (let i = 0; i < n; i++) none *= 1 - p;
  return 1 - none < LEVEL;
}
