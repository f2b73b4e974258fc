/** Digits that a number is shown with where no uncertainty tells how many count. */
const USUAL_DIGITS = 6;
/** Shown with a power of ten below this and from the other on. */
const PLAIN_FROM = -6;
const PLAIN_BELOW = 9;

/** The number format that shows a value to the second significant digit of its uncertainty; the cell keeps every digit. */
export function formatFor(value: number, u: number | null = null): string {
  const top = exponent(value);
  const last = u !== null && u > 0 ? Math.min(exponent(u), top) - 1 : top - USUAL_DIGITS + 1;
  if (value !== 0 && (top < PLAIN_FROM || top >= PLAIN_BELOW))
    return `0.${"0".repeat(Math.max(1, Math.min(8, top - last)))}E+00`;
  return fixed(Math.max(0, Math.min(12, -last)));
}

/** The format of a number of so many significant digits. */
export function significantFormat(value: number, digits: number): string {
  const top = exponent(value);
  if (value !== 0 && (top < PLAIN_FROM || top >= PLAIN_BELOW)) return `0.${"0".repeat(digits - 1)}E+00`;
  return fixed(Math.max(0, Math.min(12, digits - 1 - top)));
}

/** The format of degrees of freedom: large ones say no more than that they are. */
export function dofFormat(value: number): string {
  return value < 100 ? "0.0" : value < 1e5 ? "0" : "0E+00";
}

function fixed(decimals: number): string {
  return decimals === 0 ? "0" : `0.${"0".repeat(decimals)}`;
}

function exponent(value: number): number {
  return value === 0 ? 0 : Number(value.toExponential().split("e")[1]);
}
