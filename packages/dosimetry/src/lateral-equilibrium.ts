import { ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import { CENTIMETRE, inMillimetres, MILLIMETRE } from "./length-unit.ts";
import { PERCENT } from "./percent-unit.ts";
import { requirePositiveNode, requireUnit } from "./requirement.ts";
import { type Qualified, qualified } from "./validity.ts";

/**
 * Lateral charged particle equilibrium range from TPR20,10 of a 10 cm field, r = 8.369·TPR20,10 − 4.382 in cm
 * (IAEA TRS-483, 2017). It does not agree exactly with the form in percentage depth dose: state which was used.
 *
 * @param tpr - TPR20,10 for 100 mm × 100 mm, dimensionless.
 * @returns r_LCPE in mm (the published formula is in cm; 10 mm/cm); valid where it is above zero.
 * @throws TypeError for another unit, RangeError for a ratio not above zero.
 */
export function lateralRangeFromTpr(tpr: Scalar): Qualified {
  requireUnit(tpr, ONE, "TPR20,10");
  requirePositiveNode(tpr, "TPR20,10");
  const slope = tpr.tape.literal(8.369, CENTIMETRE);
  return range(slope.times(tpr).minus(tpr.tape.literal(4.382, CENTIMETRE)));
}

/**
 * Lateral charged particle equilibrium range from the photon component of the percentage depth dose at 10 cm,
 * r = 0.07797·%dd(10)x − 4.112 in cm (IAEA TRS-483, 2017).
 *
 * @param pdd - %dd(10)x for 100 mm × 100 mm at SSD 1000 mm, in %.
 * @returns r_LCPE in mm (the published formula is in cm; 10 mm/cm); valid where it is above zero.
 * @throws TypeError for another unit, RangeError for a depth dose not above zero.
 */
export function lateralRangeFromPdd(pdd: Scalar): Qualified {
  requireUnit(pdd, PERCENT, "%dd(10)x");
  requirePositiveNode(pdd, "%dd(10)x");
  const slope = pdd.tape.literal(0.07797, CENTIMETRE.over(PERCENT));
  return range(slope.times(pdd).minus(pdd.tape.literal(4.112, CENTIMETRE)));
}

/**
 * Whether a field gives a detector lateral charged particle equilibrium: FWHM ≥ 2·r_LCPE + d (IAEA TRS-483, 2017).
 *
 * @param fwhm - the smaller field width at half maximum, at depth, in mm.
 * @param range - r_LCPE in mm.
 * @param size - d, the largest outer dimension of the detector in the plane across the beam, in mm.
 * @returns the margin FWHM − (2·r_LCPE + d) in mm; valid where it is not negative.
 * @throws TypeError for other units, RangeError for a length not above zero.
 */
export function lateralEquilibrium(fwhm: Scalar, range: Scalar, size: Scalar): Qualified {
  for (const [length, what] of [
    [fwhm, "the field width"],
    [range, "the lateral equilibrium range"],
    [size, "the size of the detector"],
  ] as const) {
    requireUnit(length, MILLIMETRE, what);
    requirePositiveNode(length, what);
  }
  const needed = range.times(2).plus(size);
  const margin = fwhm.minus(needed);
  return qualified(margin, margin.value >= 0, {
    quantity: "FWHM",
    value: fwhm.value,
    unit: MILLIMETRE.symbol,
    holds: `FWHM >= 2 r_LCPE + d = ${needed.value}`,
  });
}

/** Both forms are straight lines that cross zero at soft beams, where they mean nothing. */
function range(centimetres: Scalar): Qualified {
  const node = inMillimetres(centimetres);
  return qualified(node, node.value > 0, {
    quantity: "r_LCPE",
    value: node.value,
    unit: MILLIMETRE.symbol,
    holds: "r_LCPE > 0",
  });
}
