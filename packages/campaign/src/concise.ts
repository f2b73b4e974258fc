/** What stands where there is no number. */
export const ABSENT = "—";

/** A number below this power of ten, or from the other upwards, is written with a power of ten of its own. */
const PLAIN_FROM = -3;
const PLAIN_BELOW = 7;

/** An uncertainty smaller than this part of its value lies beyond the digits that the value has. */
const BELOW_ROUNDING = 1e-14;

/**
 * A value in concise notation: `0.6123(21)` is 0.6123 with a standard uncertainty of 0.0021. The uncertainty has two
 * significant digits, the value ends at the same place.
 *
 * An uncertainty of one or more keeps its decimal point where the value has one (`12.3(4.5)`), so that the brackets cannot be
 * read two ways. Without uncertainty (null, zero, not finite, or lost in the value's own rounding) the value stands alone, as {@link plain} writes it. A value
 * that is not finite is absent.
 */
export function concise(value: number, u: number | null): string {
  if (!Number.isFinite(value)) return ABSENT;
  if (u === null || !(u > BELOW_ROUNDING * Math.abs(value) && u < Number.POSITIVE_INFINITY)) return plain(value);
  const [mantissa, exponentOfU] = scientific(u, 1);
  const place = exponentOfU - 1;
  const steps = multiplesOf(value, place);
  if (steps === undefined) return plain(value);
  const top = value === 0 ? exponentOfU : Math.max(scientific(value)[1], exponentOfU);
  const shift = top >= PLAIN_FROM && top < PLAIN_BELOW ? 0 : top;
  const sign = value < 0 && /[1-9]/.test(steps) ? "−" : "";
  return `${sign}${atPlace(steps, place - shift)}(${uncertainty(mantissa, exponentOfU - shift)})${powerOfTen(shift)}`;
}

/** A number with at most so many significant digits, trailing zeros left out: `22`, `12.3549`, `−1.5×10⁻⁷`. */
export function plain(value: number, digits = 6): string {
  if (!Number.isFinite(value)) return ABSENT;
  if (value === 0) return "0";
  const [mantissa, exponent] = scientific(value, digits - 1);
  const shift = exponent >= PLAIN_FROM && exponent < PLAIN_BELOW ? 0 : exponent;
  const text = atPlace(mantissa.replace(".", ""), exponent - shift - (digits - 1));
  return (value < 0 ? "−" : "") + (text.includes(".") ? text.replace(/\.?0+$/, "") : text) + powerOfTen(shift);
}

/** A number with just so many significant digits, trailing zeros kept: `0.0048`, `0.98`, `12`. */
export function significant(value: number, digits: number): string {
  if (!Number.isFinite(value)) return ABSENT;
  if (value === 0) return "0";
  const [mantissa, exponent] = scientific(value, digits - 1);
  const shift = exponent >= PLAIN_FROM && exponent < PLAIN_BELOW ? 0 : exponent;
  return (
    (value < 0 ? "−" : "") + atPlace(mantissa.replace(".", ""), exponent - shift - (digits - 1)) + powerOfTen(shift)
  );
}

/** A fraction as a percentage of two significant digits: `0.34 %`, `12 %`; with its sign where `signed`. */
export function percent(fraction: number, signed = false): string {
  const text = significant(100 * fraction, 2);
  if (text === ABSENT) return text;
  return `${signed && fraction > 0 ? "+" : ""}${text} %`;
}

/** A small deviation in concise notation, as a percentage with its sign: `+0.34(12) %`, `−0.01(12) %`. */
export function concisePercent(fraction: number, u: number | null): string {
  const text = concise(100 * fraction, u === null ? null : 100 * u);
  if (text === ABSENT) return text;
  return `${fraction > 0 ? "+" : ""}${text} %`;
}

/** A share of a whole, without digits that say nothing: `100 %`, `12 %`, `4.3 %`, `−2.1 %`; `< 0.1 %` of either sign. */
export function share(fraction: number): string {
  const size = Math.abs(100 * fraction);
  if (!Number.isFinite(size)) return ABSENT;
  if (size === 0) return "0 %";
  if (size < 0.1) return "< 0.1 %";
  return `${fraction < 0 ? "−" : ""}${size.toFixed(size < 9.95 ? 1 : 0)} %`;
}

/** The numbers of one column with their decimal signs in line: so many significant digits for the largest of them. */
export function inLine(values: readonly (number | undefined)[], digits: number): string[] {
  const finite = values.filter((value): value is number => value !== undefined && Number.isFinite(value));
  const largest = finite.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const top = largest === 0 ? 0 : scientific(largest, digits - 1)[1];
  if (top < PLAIN_FROM || top >= PLAIN_BELOW)
    return values.map((value) => (value === undefined ? ABSENT : significant(value, digits)));
  const decimals = Math.max(0, digits - 1 - top);
  return values.map((value) =>
    value === undefined || !Number.isFinite(value) ? ABSENT : value.toFixed(decimals).replace("-", "−"),
  );
}

/** Mantissa (without sign) and exponent in base ten, rounded to so many decimals. */
function scientific(value: number, decimals?: number): [mantissa: string, exponent: number] {
  const [mantissa, exponent] = Math.abs(value).toExponential(decimals).split("e");
  return [mantissa!, Number(exponent)];
}

/** How many times 10^place goes into |value|, to the nearest, as digits; undefined where that needs over 100 of them. */
function multiplesOf(value: number, place: number): string | undefined {
  if (value === 0) return "0";
  const digits = scientific(value)[1] - place;
  if (digits < -1) return "0";
  if (digits === -1) return scientific(value)[0] >= "5" ? "1" : "0";
  if (digits > 100) return undefined;
  const [mantissa, exponent] = scientific(value, digits);
  return mantissa.replace(".", "") + "0".repeat(exponent - place - digits);
}

/** digits·10^place, written out. */
function atPlace(digits: string, place: number): string {
  if (place >= 0) return /[1-9]/.test(digits) ? digits + "0".repeat(place) : "0";
  const padded = digits.padStart(1 - place, "0");
  return `${padded.slice(0, place)}.${padded.slice(place)}`;
}

/** What stands in the brackets: two digits in units of the value's last place, or the number itself from one upwards. */
function uncertainty(mantissa: string, exponent: number): string {
  if (exponent === 0) return mantissa;
  return mantissa.replace(".", "") + "0".repeat(Math.max(0, exponent - 1));
}

const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

function powerOfTen(exponent: number): string {
  if (exponent === 0) return "";
  const digits = [...String(Math.abs(exponent))].map((digit) => SUPERSCRIPTS[Number(digit)]).join("");
  return `×10${exponent < 0 ? "⁻" : ""}${digits}`;
}
