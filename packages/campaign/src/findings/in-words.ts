/** A fraction as a percentage with so many digits that the first two that count are seen: `0.34 %`, `12 %`. */
export function percent(fraction: number): string {
  return `${significant(100 * fraction, 2)} %`;
}

/** A number with that many significant digits, without exponent where that reads well. */
export function significant(value: number, digits: number): string {
  if (value === 0 || !Number.isFinite(value)) return `${value}`;
  const text = value.toPrecision(digits);
  return (text.includes("e") ? `${Number(text)}` : text).replace("-", "−");
}

/** `a`, `a and b`, `a, b and c`; beyond six the number of the rest. */
export function list(names: readonly string[]): string {
  const shown = names.length > 6 ? [...names.slice(0, 5), `${names.length - 5} more`] : names;
  return shown.length < 2 ? (shown[0] ?? "") : `${shown.slice(0, -1).join(", ")} and ${shown.at(-1)}`;
}
