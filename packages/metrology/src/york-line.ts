/** The straight line with errors in both coordinates. */
import { chiSquareUpper } from "./distributions.ts";
import { cos, sin } from "./special.ts";

/** Points with the standard uncertainties of both coordinates. */
export interface YorkPoints {
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Standard uncertainties of x, zero or above. */
  readonly ux: readonly number[];
  /** Standard uncertainties of y, zero or above. */
  readonly uy: readonly number[];
  /** Correlation of each point's two errors, from −1 to 1; none unless given. */
  readonly correlation?: readonly number[];
}

/** Why the iteration ended. */
export type YorkStop = "converged" | "iteration limit";

/** The fitted line y = intercept + slope·x. */
export interface YorkLine {
  readonly intercept: number;
  readonly slope: number;
  /** Standard uncertainties from the stated ones, at the adjusted points; not scaled by χ². */
  readonly uIntercept: number;
  readonly uSlope: number;
  /** Covariance of intercept and slope. */
  readonly covariance: number;
  readonly chiSquare: number;
  /** Points less two. */
  readonly dof: number;
  /** Upper tail of χ²; null for two points. */
  readonly p: number | null;
  readonly iterations: number;
  /** Figures of a line that has not converged are not to be used. */
  readonly stopped: YorkStop;
}

/**
 * York's line by the unified equations of D. York, N. M. Evensen, M. López Martínez and J. De Basabe Delgado, Am. J.
 * Phys. 72, 367 (2004); without correlations the fit of D. York, Can. J. Phys. 44, 1079 (1966). With uncertainties in a
 * constant ratio it is Deming's line, with none in x weighted least squares.
 *
 * χ² at the best intercept is scanned over all directions, and the equations are solved between the neighbours of the
 * lowest. (Repeating the equations from the slope of least squares, as usual, was seen to miss the minimum in one case
 * of twenty, or to wander, where points scatter as far as they spread.)
 *
 * @param points - at least two.
 * @param iterationLimit - most evaluations after the scan, 100 unless given.
 * @throws RangeError naming the point with a value that is not finite or uncertainties that do not fit, or where all x
 * are equal.
 */
export function yorkLine(points: YorkPoints, iterationLimit = 100): YorkLine {
  requirePoints(points);
  // About the plain means, so that a common offset costs no digits.
  const originX = plainMean(points.x);
  const originY = plainMean(points.y);
  const centred: CentredPoints = {
    x: points.x.map((value) => value - originX),
    y: points.y.map((value) => value - originY),
    varianceX: points.ux.map((u) => u * u),
    varianceY: points.uy.map((u) => u * u),
    covariance: points.ux.map((u, i) => u * points.uy[i]! * (points.correlation?.[i] ?? 0)),
  };
  const { at, iterations, stopped } = lowest(centred, iterationLimit);
  const distance = at.adjustedMean + originX;
  const dof = points.x.length - 2;
  return {
    intercept: at.meanY + originY - at.slope * (at.meanX + originX),
    slope: at.slope,
    uIntercept: Math.sqrt(1 / at.sumOfWeights + distance * distance * at.uSlope * at.uSlope),
    uSlope: at.uSlope,
    covariance: -distance * at.uSlope * at.uSlope,
    chiSquare: at.chiSquare,
    dof,
    p: dof === 0 ? null : chiSquareUpper(at.chiSquare, dof),
    iterations,
    stopped,
  };
}

interface CentredPoints {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly varianceX: readonly number[];
  readonly varianceY: readonly number[];
  readonly covariance: readonly number[];
}

/** York's quantities at one slope. */
interface AtSlope {
  readonly slope: number;
  readonly meanX: number;
  readonly meanY: number;
  readonly sumOfWeights: number;
  /** Weighted mean of the adjusted x. */
  readonly adjustedMean: number;
  readonly uSlope: number;
  readonly chiSquare: number;
  /** ΣWβ(V − bU) = −½ dχ²/db: zero at the minimum, positive below it. */
  readonly descent: number;
}

/** Angles scanned, evenly over half a turn and clear of the vertical, with their tangents. */
const TURN = Math.PI / 60;
const ANGLES = Array.from({ length: 60 }, (_, k) => (k + 0.5) * TURN - Math.PI / 2);
const TANGENTS = ANGLES.map((angle) => sin(angle) / cos(angle));

/**
 * The slope of least χ², sought along the line's angle, in which χ² is smooth and periodic and a steep line is like any
 * other. Angles are those of slope over `unit`, at which the two coordinates' errors weigh alike.
 */
function lowest(points: CentredPoints, limit: number): { at: AtSlope; iterations: number; stopped: YorkStop } {
  const unit = slopeUnit(points);
  const evaluate = (angle: number): AtAngle => {
    const tangent = sin(angle) / cos(angle);
    const at = atSlope(points, unit * tangent);
    return { ...at, angle, fall: at.descent * (1 + tangent * tangent) };
  };
  let lowestChiSquare = Infinity;
  let lowestAngle = Number.NaN;
  TANGENTS.forEach((tangent, k) => {
    const chiSquare = chiSquareAt(points, unit * tangent);
    if (chiSquare < lowestChiSquare) {
      lowestChiSquare = chiSquare;
      lowestAngle = ANGLES[k]!;
    }
  });
  if (lowestChiSquare === Infinity) {
    throw new RangeError("No line has a finite chi-square: give every point an uncertainty of its own.");
  }

  // χ² falls from `near` towards `far`, and rises again, or stands higher, at `far`.
  let near = evaluate(lowestAngle);
  const side = Math.sign(near.fall);
  let far = evaluate(near.angle + side * TURN);
  // Regula falsi with Illinois' halving of the end that stays, so that both ends close in.
  let nearFall = side * near.fall;
  let farFall = side * far.fall;
  let previous = near;
  for (let iterations = 1; iterations <= limit; iterations++) {
    const share = farFall < 0 ? nearFall / (nearFall - farFall) : 0.5;
    const middle = evaluate(near.angle + share * (far.angle - near.angle));
    const change = Math.abs(middle.slope - previous.slope);
    if (middle.fall === 0 || change <= 1e-14 * Math.abs(middle.slope) + 1e-12 * middle.uSlope) {
      return { at: middle, iterations, stopped: "converged" };
    }
    if (side * middle.fall > 0 && middle.chiSquare <= near.chiSquare * (1 + 1e-12)) {
      if (previous === near) farFall *= 0.5;
      near = middle;
      nearFall = side * middle.fall;
    } else {
      if (previous === far) nearFall *= 0.5;
      far = middle;
      farFall = side * middle.fall;
    }
    previous = middle;
  }
  return { at: previous, iterations: limit, stopped: "iteration limit" };
}

interface AtAngle extends AtSlope {
  readonly angle: number;
  /** −½ dχ²/d(angle)/unit. */
  readonly fall: number;
}

/** Ratio of the coordinates' root mean square uncertainties, or of their spreads where one has none. */
function slopeUnit(points: CentredPoints): number {
  const total = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
  const errorX = total(points.varianceX);
  const errorY = total(points.varianceY);
  if (errorX > 0 && errorY > 0) return Math.sqrt(errorY / errorX);
  const spreadX = total(points.x.map((value) => value * value));
  const spreadY = total(points.y.map((value) => value * value));
  return Math.sqrt((spreadY > 0 ? spreadY : errorY) / spreadX);
}

/** χ² at the best intercept, in one pass. Good enough to compare directions by. */
function chiSquareAt(points: CentredPoints, slope: number): number {
  const { x, y, varianceX, varianceY, covariance } = points;
  let sumOfWeights = 0;
  let sum = 0;
  let sumOfSquares = 0;
  for (let i = 0; i < x.length; i++) {
    const weight = 1 / (varianceY[i]! + slope * (slope * varianceX[i]! - 2 * covariance[i]!));
    const rest = y[i]! - slope * x[i]!;
    sumOfWeights += weight;
    sum += weight * rest;
    sumOfSquares += weight * rest * rest;
  }
  return sumOfSquares - (sum * sum) / sumOfWeights;
}

function atSlope(points: CentredPoints, slope: number): AtSlope {
  const { x, y, varianceX, varianceY, covariance } = points;
  const count = x.length;
  const weights = new Float64Array(count);
  let sumOfWeights = 0;
  let meanX = 0;
  let meanY = 0;
  for (let i = 0; i < count; i++) {
    const weight = 1 / (varianceY[i]! + slope * (slope * varianceX[i]! - 2 * covariance[i]!));
    weights[i] = weight;
    sumOfWeights += weight;
    meanX += weight * x[i]!;
    meanY += weight * y[i]!;
  }
  meanX /= sumOfWeights;
  meanY /= sumOfWeights;

  // β: distance of the adjusted x from the weighted mean, with the variances in place of York's inverse weights.
  const betas = new Float64Array(count);
  let descent = 0;
  let meanBeta = 0;
  let chiSquare = 0;
  for (let i = 0; i < count; i++) {
    const u = x[i]! - meanX;
    const v = y[i]! - meanY;
    const weight = weights[i]!;
    const residual = v - slope * u;
    const beta = weight * (u * varianceY[i]! + slope * v * varianceX[i]! - (slope * u + v) * covariance[i]!);
    betas[i] = beta;
    descent += weight * beta * residual;
    meanBeta += weight * beta;
    chiSquare += weight * residual * residual;
  }
  meanBeta /= sumOfWeights;
  let spread = 0;
  for (let i = 0; i < count; i++) spread += weights[i]! * (betas[i]! - meanBeta) * (betas[i]! - meanBeta);
  const adjustedMean = meanX + meanBeta;
  return { slope, meanX, meanY, sumOfWeights, adjustedMean, uSlope: 1 / Math.sqrt(spread), chiSquare, descent };
}

function plainMean(values: readonly number[]): number {
  const first = values[0]!;
  return first + values.reduce((sum, value) => sum + (value - first), 0) / values.length;
}

function requirePoints(points: YorkPoints): void {
  const count = points.x.length;
  if (count < 2) throw new RangeError(`A line needs at least two points, but ${count} given.`);
  const columns = { y: points.y, ux: points.ux, uy: points.uy, correlation: points.correlation ?? points.x };
  for (const [name, column] of Object.entries(columns)) {
    if (column.length !== count)
      throw new RangeError(`${count} x but ${column.length} values of ${name}: give one each.`);
  }
  for (let i = 0; i < count; i++) {
    const place = `Point ${i + 1}`;
    if (!Number.isFinite(points.x[i]!) || !Number.isFinite(points.y[i]!)) {
      throw new RangeError(`${place} is (${points.x[i]}, ${points.y[i]}): both coordinates must be finite.`);
    }
    const ux = points.ux[i]!;
    const uy = points.uy[i]!;
    if (!(ux >= 0 && ux < Infinity && uy >= 0 && uy < Infinity && ux + uy > 0)) {
      throw new RangeError(
        `${place} has standard uncertainties ${ux} and ${uy}: they must be finite, zero or above, and not both zero.`,
      );
    }
    const correlation = points.correlation?.[i] ?? 0;
    if (!(correlation >= -1 && correlation <= 1)) {
      throw new RangeError(`${place} has correlation ${correlation}: it must lie from -1 to 1.`);
    }
  }
  if (points.x.every((value) => value === points.x[0])) {
    throw new RangeError("All x are equal: no finite slope describes these points.");
  }
  if (points.y.every((value) => value === points.y[0]) && points.uy.every((u) => u === 0)) {
    throw new RangeError("All y are equal and without uncertainty: give them one, or there is nothing to weigh.");
  }
}
