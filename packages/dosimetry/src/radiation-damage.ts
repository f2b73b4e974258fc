import type { PublishedValue } from "./published-value.ts";

/**
 * Upper figure of the relative loss of light per accumulated dose, scintillators and clear fibre, seen under electrons
 * of ultra-high dose rate: an order of magnitude, not a figure for clinical photons.
 */
export const RADIATION_DAMAGE_UPPER_FIGURE: PublishedValue = {
  name: "loss of light per accumulated dose, upper figure",
  value: 1.85e-5,
  unit: "1/Gy",
  source: "arXiv:2410.12535",
};
