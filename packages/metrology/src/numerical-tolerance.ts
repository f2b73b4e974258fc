/**
 * The numerical tolerance δ of a standard uncertainty of which so many decimal digits are meaningful (JCGM 101:2008,
 * 7.9.2): with u = c·10ˡ, c a whole number of that many digits, δ = ½·10ˡ. Zero for zero.
 *
 * @param u finite, zero or above.
 * @param digits 1 or 2, usually.
 * @throws RangeError where one of them is not.
 */
export function numericalTolerance(u: number, digits: number): number {
  if (!(u >= 0 && u < Number.POSITIVE_INFINITY))
    throw new RangeError(`a numerical tolerance needs an uncertainty that is finite and zero or above, not ${u}`);
  if (!(Number.isInteger(digits) && digits >= 1 && digits <= 15))
    throw new RangeError(`significant digits are counted from 1 to 15, not ${digits}`);
  if (u === 0) return 0;
  // decimal notation is exact: 0.0996 to two digits is 1.0e-1, with the exponent of the rounded number
  const exponent = Number(u.toExponential(digits - 1).split("e")[1]) - (digits - 1);
  return Number(`5e${exponent - 1}`);
}
