import type { Profile } from "./lateral-profile.ts";
import { gaussLegendre } from "./quadrature.ts";
import { cos, sin } from "./special.ts";

/** The scintillating cylinder. Across the beam its axis lies along x. */
export interface ActiveVolume {
  readonly diameter_mm: number;
  readonly length_mm: number;
  readonly axis: "along-beam" | "across-beam";
}

const RADIAL = gaussLegendre(4);
const SPOKES = 8;
const ALONG = gaussLegendre(8);
const CHORDS = 8;

/**
 * Mean dose over the cylinder with its middle at (x, y), over the dose at the field's centre: the profile summed over
 * points spread through the cylinder. Along the beam the cylinder is a disc (over its length the depth gradient cancels
 * to first order); across it, a length along x and chords along y.
 */
export function meanOverVolume(profile: Profile, volume: ActiveVolume, x: number, y: number): number {
  const radius = volume.diameter_mm / 2;
  let total = 0;
  if (volume.axis === "along-beam") {
    for (let i = 0; i < RADIAL.nodes.length; i++) {
      // equal areas between equal steps of the radius squared
      const r = radius * Math.sqrt((1 + RADIAL.nodes[i]!) / 2);
      let ring = 0;
      for (let k = 0; k < SPOKES; k++) {
        const angle = (2 * Math.PI * (k + 0.5)) / SPOKES;
        ring += profile(x + r * cos(angle), y + r * sin(angle));
      }
      total += (RADIAL.weights[i]! / 2) * (ring / SPOKES);
    }
    return total;
  }
  let weights = 0;
  for (let k = 1; k <= CHORDS; k++) {
    // the rule for the weight √(1 − t²): Chebyshev's of the second kind
    const angle = (Math.PI * k) / (CHORDS + 1);
    const weight = sin(angle) * sin(angle);
    let chord = 0;
    for (let i = 0; i < ALONG.nodes.length; i++) {
      const along = x + (volume.length_mm / 2) * ALONG.nodes[i]!;
      chord += (ALONG.weights[i]! / 2) * profile(along, y + radius * cos(angle));
    }
    total += weight * chord;
    weights += weight;
  }
  return total / weights;
}
