import { fixed, signed, significant } from "./number-text.ts";

/** A value with its expanded uncertainty at 95 %; `U` is null where it is not known, zero where there is none. */
export interface Interval {
  readonly value: number;
  readonly U: number | null;
}

/** The ends of an interval; both its value where no uncertainty is known. */
export function endsOf({ value, U }: Interval): [number, number] {
  return [value - (U ?? 0), value + (U ?? 0)];
}

/** An interval in words, `0.3088 ± 0.0063`, the uncertainty to two digits; where it is unknown the words say so. */
export function intervalText({ value, U }: Interval): string {
  if (U === null) return `${significant(value, 4)} (uncertainty unknown)`;
  if (!(U > 0)) return significant(value, 4);
  const decimals = decimalsFor(U);
  return `${fixed(value, decimals)} ± ${fixed(U, decimals)}`;
}

/** A fraction in words as percent with its sign, `+0.12 ± 0.34 %`. */
export function percentText({ value, U }: Interval): string {
  if (U === null) return `${signed(value * 100, 2)} % (uncertainty unknown)`;
  if (!(U > 0)) return `${signed(value * 100, 2)} %`;
  const decimals = decimalsFor(U * 100);
  return `${signed(value * 100, decimals)} ± ${fixed(U * 100, decimals)} %`;
}

/** Decimals at which an uncertainty has two significant digits. */
function decimalsFor(U: number): number {
  const exponent = Number(U.toExponential(1).split("e")[1]);
  return Math.max(0, Math.min(12, 1 - exponent));
}
