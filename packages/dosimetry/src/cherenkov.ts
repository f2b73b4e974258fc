import { acos } from "@alcedo-dosimetry/metrology";
import { ELECTRON_REST_ENERGY, FINE_STRUCTURE_CONSTANT } from "./physical-constants.ts";

/**
 * Kinetic energy above which an electron radiates in a medium, where β = 1/n: m_e·c²·(1/√(1 − 1/n²) − 1).
 *
 * @param index - refractive index n, above one.
 * @returns the energy in keV.
 * @throws RangeError for an index not above one.
 */
export function cherenkovThreshold(index: number): number {
  return ELECTRON_REST_ENERGY.value * (1 / Math.sqrt(sineSquared(index)) - 1);
}

/**
 * Half angle of the light cone of a fast electron (β = 1), arccos(1/n): the largest that the medium allows.
 *
 * @param index - refractive index n, above one.
 * @returns the angle in degrees.
 * @throws RangeError for an index not above one.
 */
export function cherenkovAngle(index: number): number {
  requireIndex(index);
  return (acos(1 / index) * 180) / Math.PI;
}

/**
 * Photons per cm of path of a fast electron (β = 1) between two wavelengths, 2π·α·(1/λ₁ − 1/λ₂)·(1 − 1/n²) (I. Frank and
 * I. Tamm, C. R. Acad. Sci. URSS 14, 109 (1937)), for an index that does not depend on the wavelength.
 *
 * @param index - refractive index n, above one.
 * @param from_nm - shorter wavelength, in vacuum, in nm.
 * @param to_nm - longer wavelength, likewise.
 * @throws RangeError for an index not above one, or wavelengths that are not 0 < from < to.
 */
export function cherenkovPhotonsPerCentimetre(index: number, from_nm: number, to_nm: number): number {
  if (!(from_nm > 0 && from_nm < to_nm))
    throw new RangeError(
      `the band runs from a wavelength above zero to a longer one, but from ${from_nm} to ${to_nm} nm was given`,
    );
  const nanometresPerCentimetre = 1e7;
  const band = (1 / from_nm - 1 / to_nm) * nanometresPerCentimetre;
  return 2 * Math.PI * FINE_STRUCTURE_CONSTANT.value * band * sineSquared(index);
}

/** sin² of the cone's half angle, 1 − 1/n², written so that an index near one loses no digits. */
function sineSquared(index: number): number {
  requireIndex(index);
  return ((index - 1) * (index + 1)) / (index * index);
}

function requireIndex(index: number): void {
  if (!(index > 1 && index < Infinity))
    throw new RangeError(`a medium slows light down: its refractive index must be a number above one, but is ${index}`);
}
