/** Powers of ten of the SI prefixes that readings come in. */
const PREFIXES: Readonly<Record<string, number>> = {
  p: -12,
  n: -9,
  µ: -6,
  u: -6,
  m: -3,
  c: -2,
  d: -1,
  "": 0,
  k: 3,
  M: 6,
  G: 9,
};

/** Units that take a prefix; a signal may be in any of them. */
const BASES = ["Gy", "C", "A", "V", "W", "m", "s", "Hz", "eV", "T"];

/** Other ways to write one unit. */
const SPELLINGS: Readonly<Record<string, string>> = {
  "°c": "°C",
  "℃": "°C",
  degc: "°C",
  "deg c": "°C",
  celsius: "°C",
  "°f": "°F",
  "℉": "°F",
  degf: "°F",
  "deg f": "°F",
  fahrenheit: "°F",
  f: "°F",
  kelvin: "K",
  percent: "%",
  "per cent": "%",
  sec: "s",
  second: "s",
  seconds: "s",
  gy: "Gy",
  cgy: "cGy",
  nc: "nC",
  pc: "pC",
  mu: "MU",
};

/** One unit in one spelling. */
export function spelledUnit(text: string): string {
  const unit = text.trim().replaceAll("μ", "µ").replace(/\s+/g, " ");
  return SPELLINGS[unit] ?? SPELLINGS[unit.toLowerCase()] ?? unit;
}

/**
 * The power of ten by which a number in one unit is multiplied to be in another: 650 cGy are 6.50 Gy, power −2.
 *
 * @param unit in the spelling of {@link spelledUnit}, as `wanted` is
 * @returns `undefined` where the two do not differ by a power of ten
 */
export function unitPower(unit: string, wanted: string): number | undefined {
  if (unit === wanted) return 0;
  // A column of temperatures has the unit C in its name; of coulombs it is no column.
  if (wanted === "°C") return unit === "C" ? 0 : undefined;
  const [from, to] = [prefixed(unit), prefixed(wanted)];
  return from !== undefined && from.base === to?.base ? from.power - to.power : undefined;
}

function prefixed(unit: string): { base: string; power: number } | undefined {
  const base = BASES.find((own) => unit.endsWith(own) && Object.hasOwn(PREFIXES, unit.slice(0, -own.length)));
  return base === undefined ? undefined : { base, power: PREFIXES[unit.slice(0, -base.length)]! };
}

/** True for a word that is a unit of some kind, so that the end of a header can be told from its name. */
export function isUnit(word: string): boolean {
  const unit = spelledUnit(word);
  return ["°C", "°F", "K", "%", "MU", "min"].includes(unit) || prefixed(unit) !== undefined;
}

/** What to do with a temperature, or another quantity, in a unit that is not converted. */
export function unitRemedy(unit: string, wanted: string): string {
  if (unit === "°F") return "Convert to °C, which is (°F − 32) · 5/9, and write °C in the header.";
  if (unit === "K") return "Subtract 273.15, and write °C in the header.";
  return `Give the column in ${wanted}, or in a unit that differs from it by a power of ten alone.`;
}
