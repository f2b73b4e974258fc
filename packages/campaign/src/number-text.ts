/** A number as it was typed: its value and the worth of the last digit shown, `6.500` → 0.001, `1.2e-3` → 0.0001. */
export interface NumberText {
  readonly value: number;
  readonly digit: number;
}

/** Why a text is not a number, and what to write. `code` is a structure code. */
export interface NumberFault {
  readonly code: "number-malformed" | "number-not-finite";
  readonly fault: string;
  readonly remedy: string;
}

/** At least one digit, before or behind the decimal sign. */
const POINT = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const COMMA = /^[+-]?(?:\d+(?:,\d*)?|,\d+)(?:[eE][+-]?\d+)?$/;

/** True when the text keeps to the grammar of numbers with this decimal sign; it may still be too large to hold. */
export function isNumberText(text: string, decimal: "." | ","): boolean {
  return (decimal === "." ? POINT : COMMA).test(text);
}

/**
 * Reads a number strictly: optional sign, digits, the table's decimal sign, digits, optional exponent; nothing else, not
 * even where a guess would be easy. Blanks around the text are not part of it.
 */
export function readNumber(cell: string, decimal: "." | ","): NumberText | NumberFault {
  const text = cell.trim();
  if (!isNumberText(text, decimal)) return malformed(text, decimal);
  const value = Number(decimal === "," ? text.replace(",", ".") : text);
  const digit = lastDigitOf(text, decimal);
  if (!Number.isFinite(value) || digit === 0 || !Number.isFinite(digit)) {
    return { code: "number-not-finite", fault: "is too large or too small to be held", remedy: "Check the exponent." };
  }
  return { value, digit };
}

/** The worth of the last digit shown: ten to the exponent, less one for every digit behind the decimal sign. */
function lastDigitOf(text: string, decimal: "." | ","): number {
  const sign = text.indexOf(decimal);
  const exponent = text.search(/[eE]/);
  const end = exponent < 0 ? text.length : exponent;
  return powerOfTen((exponent < 0 ? 0 : Number(text.slice(exponent + 1))) - (sign < 0 ? 0 : end - sign - 1));
}

/** Through the decimal text, so that the worth of a digit is the double nearest to the power of ten. */
function powerOfTen(exponent: number): number {
  return DECIMALS[-exponent] ?? Number(`1e${exponent}`);
}

/** 1, 0.1, 0.01 and so on: what readings show. */
const DECIMALS = Array.from({ length: 10 }, (_, places) => Number(`1e-${places}`));

/** True for the faulty outcome of {@link readNumber}. */
export function isNumberFault(outcome: NumberText | NumberFault): outcome is NumberFault {
  return "fault" in outcome;
}

/** Looks at what the text does contain, so that the remedy fits the mistake. */
function malformed(text: string, decimal: "." | ","): NumberFault {
  const other = decimal === "." ? "," : ".";
  if (/^[+-]?(nan|inf|infinity|∞)$/i.test(text) || /^#(N\/A|NUM|DIV|VALUE|REF)/i.test(text)) {
    const remedy = "Measure again, or leave the cell empty and give the reason in the column exclude.";
    return { code: "number-not-finite", fault: "is no finite number", remedy };
  }
  const fault = (what: string, remedy: string): NumberFault => ({ code: "number-malformed", fault: what, remedy });
  if (/^0[xob]/i.test(text)) return fault("is not a decimal number", "Write it in decimal digits.");
  if (/[−–—]/.test(text)) return fault("has a typographic minus or dash", "Write the minus sign as - (hyphen).");
  if (/^[<>≤≥~±=]/.test(text))
    return fault("is not a plain number", "Write the number alone; other text goes into the column note.");
  if (/%$/.test(text))
    return fault("carries a per cent sign", "Write the number alone; the unit is in the column's name.");
  if (/^[+-]?\d{1,3}(?:[ \u00a0\u202f'’.,]\d{3})+(?:[.,]\d*)?$/.test(text) && hasGroups(text)) {
    return fault("has thousands separators", "Write the digits without separators between thousands.");
  }
  if (isNumberText(text, other)) {
    const name = { ".": "point", ",": "comma" };
    const remedy = `Write it with the decimal ${name[decimal]} of this table, and thousands without separators.`;
    return fault(`is written with a ${name[other]}`, remedy);
  }
  if (/^[+-]?[\d.,]+(?:[eE][+-]?\d+)?\s*[\p{L}°µ]/u.test(text)) {
    return fault("has letters after the digits", "Write the number alone; the unit is in the column's name.");
  }
  return fault(
    "is not a number",
    `Write digits with a decimal ${decimal === "." ? "point" : "comma"}, such as 6${decimal}50.`,
  );
}

/** More than one separator, or one that is neither decimal sign, groups thousands. */
function hasGroups(text: string): boolean {
  return (text.match(/[.,]/g) ?? []).length > 1 || /[ \u00a0\u202f'’]/.test(text);
}
