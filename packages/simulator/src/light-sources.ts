import { type Fibre, lightOf, type PerChannel } from "./fibre.ts";

/** Where a reading's light comes from, in nC by channel. */
export interface LightSources {
  /** Scintillation of the tip: it follows the dose there. */
  readonly tip: PerChannel;
  /** Light of the fibre between the tip and the edge of the beam: it follows how much of it the beam sees. */
  readonly stem: PerChannel;
}

/**
 * The light of a dose at the field's centre with so much fibre in the beam, at right angles and the reference
 * temperature, taken apart: what only somebody who made the fibre up can know.
 */
export function lightSources(fibre: Fibre, dose_Gy: number, fibre_mm: number): LightSources {
  const light = (stemFactor: PerChannel) =>
    lightOf(fibre, {
      volumeDose_Gy: dose_Gy,
      centreDose_Gy: dose_Gy,
      fibre_mm,
      angle_deg: 90,
      warmth_K: 0,
      since_Gy: 0,
      stemFactor,
    });
  const tip = light([0, 0]);
  const both = light([1, 1]);
  return { tip, stem: [both[0] - tip[0], both[1] - tip[1]] };
}
