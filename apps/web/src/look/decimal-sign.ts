/** How a person writes the place between whole and part. */
export type DecimalSign = "." | ",";

/**
 * A number or a text with numbers, in the person's decimal sign: `0.6123(21)` → `0,6123(21)`. A point that no digit
 * follows on both sides ends a sentence and stays; so does one between more than two groups (a version, an address).
 */
export function withDecimal(text: string, decimal: DecimalSign): string {
  if (decimal === ".") return text;
  return text.replace(/(?<![\d.]|[A-Za-z][\d.]*)(\d+)\.(\d+)(?![\d]*\.\d)(?![A-Za-z])/g, "$1,$2");
}

/** What a person typed, with the decimal sign that a table has: `1,234` → `1.234` where the table writes points. */
export function asTable(typed: string, table: DecimalSign): string {
  const other = table === "." ? "," : ".";
  const text = typed.trim();
  // both signs in one number, or one twice: thousands, which nobody may guess at
  if (text.split(other).length !== 2 || text.includes(table)) return text;
  return text.replace(other, table);
}
