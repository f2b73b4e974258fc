import { ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import { CENTIMETRE, inCentimetres, MILLIMETRE } from "./length-unit.ts";
import { PERCENT } from "./percent-unit.ts";
import { requirePositiveNode, requireUnit } from "./requirement.ts";
import { type Qualified, qualified } from "./validity.ts";

const PER_CENTIMETRE = ONE.over(CENTIMETRE);

/**
 * TPR20,10 of a 10 cm field from that of a square of S cm: [TPR(S) + c·(10 − S)]/[1 + c·(10 − S)], c = 0.01615/cm
 * (Palmans, Med. Phys. 39, 5513 (2012); IAEA TRS-483, 2017).
 *
 * @param tpr - TPR20,10 of the square, dimensionless.
 * @param square - S, its equivalent square, in mm (converted inside, 10 mm/cm).
 * @returns TPR20,10 for 100 mm × 100 mm; valid for 40 mm ≤ S ≤ 120 mm.
 * @throws TypeError for other units, RangeError for a value not above zero.
 */
export function tprFromSquare(tpr: Scalar, square: Scalar): Qualified {
  requireUnit(tpr, ONE, "TPR20,10");
  requirePositiveNode(tpr, "TPR20,10");
  const scatter = missingScatter(square, 0.01615);
  return withinSquares(tpr.plus(scatter).over(scatter.plus(1)), square);
}

/**
 * Percentage depth dose at 10 cm of a 10 cm field from that of a square of S cm:
 * [PDD(S) + 80·c·(10 − S)]/[1 + c·(10 − S)], c = 0.0534/cm (Palmans, Med. Phys. 39, 5513 (2012); IAEA TRS-483, 2017).
 *
 * @param pdd - percentage depth dose of the square at 10 cm and SSD 1000 mm, in %.
 * @param square - S, its equivalent square, in mm (converted inside, 10 mm/cm).
 * @returns the percentage depth dose for 100 mm × 100 mm, in %; valid for 40 mm ≤ S ≤ 120 mm.
 * @throws TypeError for other units, RangeError for a value not above zero.
 */
export function pddFromSquare(pdd: Scalar, square: Scalar): Qualified {
  requireUnit(pdd, PERCENT, "the percentage depth dose");
  requirePositiveNode(pdd, "the percentage depth dose");
  const scatter = missingScatter(square, 0.0534);
  const limit = pdd.tape.literal(80, PERCENT);
  return withinSquares(pdd.plus(limit.times(scatter)).over(scatter.plus(1)), square);
}

/**
 * TPR20,10 = 1.2661·PDD20,10 − 0.0595 (Followill et al., Med. Phys. 25, 1202 (1998); IAEA TRS-398).
 *
 * @param ratio - PDD20,10, the percentage depth dose at 20 cm over that at 10 cm, for 100 mm × 100 mm at SSD 1000 mm.
 * @returns TPR20,10, dimensionless.
 * @throws TypeError for another unit, RangeError for a ratio not above zero.
 */
export function tprFromPddRatio(ratio: Scalar): Scalar {
  requireUnit(ratio, ONE, "PDD20,10");
  requirePositiveNode(ratio, "PDD20,10");
  return ratio.times(1.2661).minus(0.0595);
}

/**
 * Photon component of the percentage depth dose at 10 cm without a lead foil (AAPM TG-51, Med. Phys. 26, 1847 (1999)):
 * 1.267·%dd(10) − 20.0 for 75 < %dd(10) ≤ 89, and %dd(10) itself up to 75, where electron contamination does not reach
 * the depth of maximum. Which of the two holds is decided at the estimate, and stays so when the model is drawn from.
 *
 * @param pdd - %dd(10) for 100 mm × 100 mm at SSD 1000 mm, open beam, in %.
 * @returns %dd(10)x in %; valid up to 89 %, the straight line continued beyond.
 * @throws TypeError for another unit, RangeError for a depth dose not above zero.
 */
export function photonComponentPdd(pdd: Scalar): Qualified {
  requireUnit(pdd, PERCENT, "%dd(10)");
  requirePositiveNode(pdd, "%dd(10)");
  const node = pdd.value > 75 ? pdd.times(1.267).minus(pdd.tape.literal(20, PERCENT)) : pdd;
  return qualified(node, pdd.value <= 89, {
    quantity: "%dd(10)",
    value: pdd.value,
    unit: PERCENT.symbol,
    holds: "%dd(10) <= 89",
  });
}

/** c·(10 − S): what the scatter of a square lacks to that of a 10 cm field; negative for a larger one. */
function missingScatter(square: Scalar, c: number): Scalar {
  requireUnit(square, MILLIMETRE, "the equivalent square");
  requirePositiveNode(square, "the equivalent square");
  const { tape } = square;
  return tape.literal(c, PER_CENTIMETRE).times(tape.literal(10, CENTIMETRE).minus(inCentimetres(square)));
}

function withinSquares(node: Scalar, square: Scalar): Qualified {
  return qualified(node, square.value >= 40 && square.value <= 120, {
    quantity: "S",
    value: square.value,
    unit: MILLIMETRE.symbol,
    holds: "40 <= S <= 120",
  });
}
