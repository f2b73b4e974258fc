/** A number with a fixed count of decimals and a true minus sign; zero is never negative. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return /^-0(?:\.0*)?$/.test(text) ? text.slice(1) : text.replace("-", "−");
}

/** As {@link fixed}, with a plus sign where it is above zero as written. */
export function signed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return text.startsWith("−") || /^0(?:\.0*)?$/.test(text) ? text : `+${text}`;
}

/** A number to so many significant digits, plainly where it has a common size and else as a power of ten. */
export function significant(value: number, digits: number): string {
  if (value === 0) return "0";
  const [mantissa, exponent] = value.toExponential(digits - 1).split("e") as [string, string];
  const power = Number(exponent);
  if (power < -4 || power >= 6) return `${fixed(Number(mantissa), digits - 1)}·10${superscript(power)}`;
  return fixed(value, Math.max(0, digits - 1 - power));
}

const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

function superscript(power: number): string {
  const digits = [...String(Math.abs(power))].map((digit) => SUPERSCRIPTS[Number(digit)]!).join("");
  return power < 0 ? `⁻${digits}` : digits;
}

/** As {@link significant} with at most so many digits: zeros at the end of the decimals say nothing and are left out. */
export function plain(value: number, digits = 4): string {
  const text = significant(value, digits);
  return /^[−\d]+\.\d+$/.test(text) ? text.replace(/\.?0+$/, "") : text;
}
