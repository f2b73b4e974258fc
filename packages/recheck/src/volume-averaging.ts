import type { Dose } from "./blurred-field.ts";
import { gaussHermite, gaussLegendre, type Rule } from "./gauss-rule.ts";

/** The active cylinder. */
export interface ActiveVolume {
  readonly diameter_mm: number;
  readonly length_mm: number;
  /** Across the beam the axis lies along x. */
  readonly axis: "along-beam" | "across-beam";
}

/** Points of the beam's view of the cylinder, with weights that add up to one. */
export interface Footprint {
  readonly x: number;
  readonly y: number;
  readonly weight: number;
}

const LINE = gaussLegendre(12);

/**
 * The cylinder as the beam sees it. Along the beam: a disc, chord by chord. Across: length × diameter, weighted in y by
 * the chord `2√(R² − y²)`. Chords are placed by t(3 − t²)/2, which takes the root out of their ends.
 */
export function footprint({ diameter_mm, length_mm, axis }: ActiveVolume, rule: Rule = LINE): Footprint[] {
  const R = 0.5 * diameter_mm;
  const points: Footprint[] = [];
  rule.nodes.forEach((t, i) => {
    const across = R * 0.5 * t * (3 - t * t);
    const chord = Math.sqrt(Math.max(0, (R - across) * (R + across)));
    const weight = rule.weights[i]! * 1.5 * (1 - t * t) * chord;
    rule.nodes.forEach((s, j) => {
      const along = s * (axis === "along-beam" ? chord : 0.5 * length_mm);
      points.push({ x: along, y: across, weight: weight * rule.weights[j]! });
    });
  });
  const total = points.reduce((sum, point) => sum + point.weight, 0);
  return points.map((point) => ({ ...point, weight: point.weight / total }));
}

/** The dose averaged over the active volume, its centre at (x, y). */
export function averagedDose(dose: Dose, points: readonly Footprint[], x: number, y: number): number {
  return points.reduce((sum, point) => sum + point.weight * dose(x + point.x, y + point.y), 0);
}

/** `k_vol`: the dose at the centre over its average over the active volume. */
export function volumeAveraging(dose: Dose, points: readonly Footprint[]): number {
  return dose(0, 0) / averagedDose(dose, points, 0, 0);
}

/** What an uncertain position makes of a reading. */
export interface Positioning {
  /** 1/E[L], L the averaged dose off centre over that at the centre. */
  readonly k: number;
  /** sd(L)/E[L]. */
  readonly u: number;
}

const NORMAL = gaussHermite(10);

/** Expectation and spread of the loss, by Gauss–Hermite in both directions about the mean position. */
export function positioning(
  dose: Dose,
  points: readonly Footprint[],
  at: { readonly x_mm: number; readonly y_mm: number; readonly u_mm: number },
): Positioning {
  const centre = averagedDose(dose, points, 0, 0);
  let mean = 0;
  const losses: [number, number][] = [];
  NORMAL.nodes.forEach((dx, i) => {
    NORMAL.nodes.forEach((dy, j) => {
      const weight = NORMAL.weights[i]! * NORMAL.weights[j]!;
      const loss = averagedDose(dose, points, at.x_mm + at.u_mm * dx, at.y_mm + at.u_mm * dy) / centre;
      mean += weight * loss;
      losses.push([weight, loss]);
    });
  });
  const variance = losses.reduce((sum, [weight, loss]) => sum + weight * (loss - mean) * (loss - mean), 0);
  return { k: 1 / mean, u: Math.sqrt(variance) / mean };
}
