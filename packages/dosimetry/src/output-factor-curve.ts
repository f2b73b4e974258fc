import { ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import { MILLIMETRE } from "./length-unit.ts";
import { requirePositiveNode, requireUnit } from "./requirement.ts";

/** Parameters of an output-factor curve, as nodes, so that their uncertainties reach the curve. */
export interface OutputFactorCurve {
  /** P, limit of the primary part in wide fields, dimensionless. */
  readonly primary: Scalar;
  /** l, the size at which the primary part is half its limit, in mm. */
  readonly half: Scalar;
  /** n, how steeply the primary part rises, dimensionless. */
  readonly exponent: Scalar;
  /** S∞, limit of the scatter part in wide fields, dimensionless. */
  readonly scatter: Scalar;
  /** b, how fast the scatter part rises, in 1/mm. */
  readonly rate: Scalar;
}

const PER_MILLIMETRE = ONE.over(MILLIMETRE);

/**
 * Output factor against field size, P·Sⁿ/(lⁿ + Sⁿ) + S∞·(1 − e^(−b·S)): loss of lateral equilibrium in the first term,
 * phantom scatter in the second (form of Sauer and Wilbert, Med. Phys. 34, 1983 (2007)). Its parameters belong to one
 * machine and one normalisation; none are built in.
 *
 * Written as P/(1 + exp(n·ln(l/S))), so that no length is raised to a measured power.
 *
 * @param square - S, the equivalent square in mm.
 * @returns the output factor, dimensionless; ∂/∂S follows from the graph.
 * @throws TypeError for other units, RangeError for a size, l or n not above zero.
 */
export function outputFactorAt(curve: OutputFactorCurve, square: Scalar): Scalar {
  const { primary, half, exponent, scatter, rate } = curve;
  requireUnit(primary, ONE, "the primary limit P");
  requireUnit(half, MILLIMETRE, "the half size l");
  requireUnit(exponent, ONE, "the exponent n");
  requireUnit(scatter, ONE, "the scatter limit");
  requireUnit(rate, PER_MILLIMETRE, "the scatter rate b");
  requireUnit(square, MILLIMETRE, "the equivalent square");
  requirePositiveNode(half, "the half size l");
  requirePositiveNode(exponent, "the exponent n");
  requirePositiveNode(square, "the equivalent square");
  const one = square.tape.literal(1);
  const missing = exponent.times(half.over(square).logarithm()).exponential();
  const unscattered = rate.times(square).negative().exponential();
  return primary.over(one.plus(missing)).plus(scatter.times(one.minus(unscattered)));
}
