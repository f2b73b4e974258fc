import type { Scalar, Unit } from "@alcedo-dosimetry/metrology";

/**
 * Refuses a quantity in another unit: nothing is converted in silence.
 *
 * @param what - the quantity as a noun, such as `the side of the square`.
 * @throws TypeError naming both units.
 */
export function requireUnit(node: Scalar, unit: Unit, what: string): void {
  if (node.unit !== unit) throw new TypeError(`${what} is needed in ${unit.symbol}, but is in ${node.unit.symbol}`);
}

/**
 * Refuses zero, what is negative and what is not a finite number, where physics has no such thing.
 *
 * @param what - the quantity as a noun, such as `the side of the square`.
 * @throws RangeError with the value.
 */
export function requirePositive(value: number, what: string): void {
  if (!(value > 0 && value < Infinity)) throw new RangeError(`${what} must be a number above zero, but is ${value}`);
}

/** As `requirePositive`, for the value of a node. */
export function requirePositiveNode(node: Scalar, what: string): void {
  requirePositive(node.value, `${what} (in ${node.unit.symbol})`);
}
