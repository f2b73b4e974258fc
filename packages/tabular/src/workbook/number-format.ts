/** What a cell's number format shows: a plain number with so many decimals at least, a percentage, or a date. */
export type NumberFormat =
  | { readonly shows: "number" | "percent"; readonly decimals: number }
  | { readonly shows: "date" | "text" };

const GENERAL: NumberFormat = { shows: "number", decimals: 0 };

/** Codes of the formats that files name by number alone (ECMA-376 part 1, 18.8.30), those that matter here. */
const BUILT_IN: Readonly<Record<number, string>> = {
  1: "0",
  2: "0.00",
  3: "#,##0",
  4: "#,##0.00",
  9: "0%",
  10: "0.00%",
  37: "#,##0",
  38: "#,##0",
  39: "#,##0.00",
  40: "#,##0.00",
  49: "@",
};

/** Built-in formats that are dates, times and spans of time; 27–36 and 50–58 are those of East Asian calendars. */
function isBuiltInDate(id: number): boolean {
  return (id >= 14 && id <= 22) || (id >= 27 && id <= 36) || (id >= 45 && id <= 47) || (id >= 50 && id <= 58);
}

/** The format of a number, by its id and, where the file states one, its code. */
export function numberFormat(id: number, code: string | undefined): NumberFormat {
  if (code === undefined && isBuiltInDate(id)) return { shows: "date" };
  const stated = code ?? BUILT_IN[id];
  return stated === undefined ? GENERAL : formatOfCode(stated);
}

/** Reads the first section of a format's code, which is that of positive numbers. */
export function formatOfCode(code: string): NumberFormat {
  const bare = code
    .replace(/"[^"]*"|\\.|_.|\*./g, "")
    .replace(/\[(?!h+\]|m+\]|s+\])[^\]]*\]/gi, "")
    .split(";")[0]!;
  if (/general/i.test(bare)) return GENERAL;
  if (bare.trim() === "@") return { shows: "text" };
  if (/[ymdhs]/i.test(bare)) return { shows: "date" };
  // A power of ten or a fraction: the digits behind the point are not those of the plain number.
  if (/e[+-]|\//i.test(bare)) return GENERAL;
  const decimals = /\.(0*)/.exec(bare)?.[1]?.length ?? 0;
  return { shows: bare.includes("%") ? "percent" : "number", decimals };
}
