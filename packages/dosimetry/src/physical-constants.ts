import type { PublishedValue } from "./published-value.ts";

const CODATA = "CODATA recommended values of the fundamental physical constants, 2022";

/** α, the strength of the coupling of charge and light. */
export const FINE_STRUCTURE_CONSTANT: PublishedValue = {
  name: "fine-structure constant",
  value: 7.2973525643e-3,
  unit: "1",
  uncertainty: 1.1e-12,
  source: CODATA,
};

/** m_e·c². */
export const ELECTRON_REST_ENERGY: PublishedValue = {
  name: "electron mass energy equivalent",
  value: 510.99895069,
  unit: "keV",
  uncertainty: 1.6e-7,
  source: CODATA,
};
