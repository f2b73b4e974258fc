/** A decimal number taken apart: sign, digits without the point, and how many of them stand behind it. */
interface Decimal {
  readonly sign: string;
  readonly digits: string;
  readonly decimals: number;
}

const FORM = /^([+-]?)(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d{1,4}))?$/;

/** Decimals that a number may get; beyond, the power of ten stays written as one. */
const MOST = 400;

function takenApart(text: string): Decimal | undefined {
  const match = FORM.exec(text);
  if (match === null || (match[2] === "" && !match[3])) return undefined;
  const fraction = match[3] ?? "";
  return { sign: match[1]!, digits: match[2]! + fraction, decimals: fraction.length - Number(match[4] ?? 0) };
}

/**
 * A number's text times a power of ten, by moving the point: every digit stays as it is, nothing is computed in binary.
 * `650` by −2 is `6.50`; `6.5` by 1 is `65`; `6` by 1 is `60`.
 *
 * @returns `undefined` where the text is no number with a decimal point
 */
export function shiftedDecimal(text: string, power: number): string | undefined {
  const number = takenApart(text);
  if (number === undefined) return undefined;
  const { sign, digits } = number;
  const decimals = number.decimals - power;
  if (Math.abs(decimals) > MOST) return undefined;
  if (decimals <= 0) return sign + trimmed(digits + "0".repeat(-decimals));
  const padded = digits.padStart(decimals + 1, "0");
  const point = padded.length - decimals;
  return `${sign}${trimmed(padded.slice(0, point))}.${padded.slice(point)}`;
}

/** A number's text with zeros behind it up to so many decimals; digits that are there stay. */
export function paddedDecimal(text: string, decimals: number): string {
  const match = /^[+-]?\d+(?:\.(\d+))?$/.exec(text);
  const missing = match === null ? 0 : decimals - (match[1]?.length ?? 0);
  if (missing <= 0) return text;
  return `${text}${match?.[1] === undefined ? "." : ""}${"0".repeat(missing)}`;
}

function trimmed(integer: string): string {
  return integer.replace(/^0+(?=\d)/, "");
}
