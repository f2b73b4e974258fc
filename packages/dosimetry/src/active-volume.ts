import { cos, gaussLegendre, sin } from "@alcedo-dosimetry/metrology";

/** The cylinder that lights up. */
export interface ActiveVolume {
  readonly diameter_mm: number;
  readonly length_mm: number;
  /** Its axis against the beam's; across the beam it lies along x (crossline). */
  readonly axis: "along-beam" | "across-beam";
}

/** Points of the field's plane whose weighted mean is the mean over the active volume. */
export interface VolumePoints {
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** They add up to one. */
  readonly weights: readonly number[];
}

/** How many points a rule has along each of its two directions, before mirroring. */
export interface Fineness {
  readonly along: number;
  readonly around: number;
}

/** Good for 1e-6 of k_vol up to a radius or half length of one and a half blurs. */
const FINE: Fineness = { along: 4, around: 3 };

/** As good for a disc of up to half a blur: that is most tips in most fields. */
const MEDIUM: Fineness = { along: 2, around: 2 };

/** Good for a few per cent of k_vol − 1: enough for a standard deviation. */
export const COARSE: Fineness = { along: 1, around: 1 };

/** A quadrature that is good for 1e-6 of k_vol where the edges of the field are blurred by σ (mm). */
export function finenessFor({ diameter_mm, axis }: ActiveVolume, sigma: number): Fineness {
  return axis === "along-beam" && diameter_mm <= sigma ? MEDIUM : FINE;
}

/**
 * A quadrature over the active volume as the beam sees it: a disc where the axis lies along the beam (the depth
 * gradient cancels to first order), and across it the length along x with the chord 2√(R² − y²) along y.
 *
 * @param mirrored false gives the quarter x, y ≥ 0 alone, enough where dose is symmetric about both axes.
 */
export function volumePoints(
  { diameter_mm, length_mm, axis }: ActiveVolume,
  fineness: Fineness,
  mirrored: boolean,
): VolumePoints {
  const quarter =
    axis === "along-beam" ? disc(diameter_mm / 2, fineness) : section(diameter_mm / 2, length_mm / 2, fineness);
  if (!mirrored) return quarter;
  const signs = [
    [1, 1],
    [-1, 1],
    [1, -1],
    [-1, -1],
  ] as const;
  return {
    x: signs.flatMap(([sx]) => quarter.x.map((x) => sx * x)),
    y: signs.flatMap(([, sy]) => quarter.y.map((y) => sy * y)),
    weights: signs.flatMap(() => quarter.weights.map((w) => w / 4)),
  };
}

/** Gauss–Legendre in r², equal angles: a quarter of a rule that is exact for harmonics up to 4·around − 1. */
function disc(radius: number, { along, around }: Fineness): VolumePoints {
  const { nodes, weights } = gaussLegendre(along);
  const points = nodes.flatMap((node, i) =>
    Array.from({ length: around }, (_, j) => {
      const r = radius * Math.sqrt((1 + node) / 2);
      const angle = ((j + 0.5) * Math.PI) / (2 * around);
      return { x: r * cos(angle), y: r * sin(angle), weight: weights[i]! / 2 / around };
    }),
  );
  return columns(points);
}

/** Gauss–Legendre along the length, Gauss–Chebyshev of the second kind across the chord. */
function section(radius: number, half: number, { along, around }: Fineness): VolumePoints {
  const { nodes, weights } = gaussLegendre(along);
  const n = 2 * around;
  const across = Array.from({ length: around }, (_, k) => {
    const angle = ((k + 1) * Math.PI) / (n + 1);
    return { y: radius * cos(angle), weight: sin(angle) * sin(angle) };
  });
  const total = across.reduce((sum, { weight }) => sum + weight, 0);
  return columns(
    nodes.flatMap((node, i) =>
      across.map(({ y, weight }) => ({
        x: (half * (1 + node)) / 2,
        y,
        weight: ((weights[i]! / 2) * weight) / total,
      })),
    ),
  );
}

function columns(points: readonly { readonly x: number; readonly y: number; readonly weight: number }[]): VolumePoints {
  return { x: points.map(({ x }) => x), y: points.map(({ y }) => y), weights: points.map(({ weight }) => weight) };
}
