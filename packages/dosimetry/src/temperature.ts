import type { PublishedValue } from "./published-value.ts";

const SOURCE = "Wootton and Beddar, Phys. Med. Biol. 58, 2955 (2013)";

/**
 * Relative change of measured dose per °C about 22 °C of a blue-emitting scintillating fibre: stem light separated,
 * coupling included. For a detector of one's own, measure it.
 */
export const BLUE_FIBRE_TEMPERATURE_COEFFICIENT: PublishedValue = {
  name: "temperature coefficient of a blue-emitting fibre",
  value: -0.0009,
  unit: "1/°C",
  source: SOURCE,
};

/** The same of a green-emitting fibre: more than five times the blue one's. */
export const GREEN_FIBRE_TEMPERATURE_COEFFICIENT: PublishedValue = {
  name: "temperature coefficient of a green-emitting fibre",
  value: -0.005,
  unit: "1/°C",
  source: SOURCE,
};
