/** Records of a CSV text, as far as they were read, and why the reading stopped. */
export interface CsvRecords {
  readonly records: readonly (readonly string[])[];
  /** The physical line on which each record starts, from 1. */
  readonly lines: readonly number[];
  readonly stop:
    | { readonly why: "end" }
    | { readonly why: "too-many-records" | "too-many-fields"; readonly line: number }
    | { readonly why: "quotes"; readonly line: number; readonly message: string };
}

/** How much is read before it is refused. */
export interface CsvLimits {
  readonly records: number;
  readonly fields: number;
}

/** Columns that a table may have; no campaign comes near. */
export const COLUMN_LIMIT = 1000;

const QUOTE = 0x22;
const NEWLINE = 0x0a;

/**
 * Takes a CSV text (RFC 4180, lines ended by `\n`) apart, strictly and without repair: a field that begins with a quotation
 * mark ends with one, `""` inside stands for one; elsewhere a quotation mark is an ordinary character. A blank line is a
 * record of one empty field; a line break at the end of the text ends the last record and begins none.
 *
 * Our own few lines rather than a library: the physical line of every record is needed, nothing may be repaired in
 * silence, and a file of a million rows must be refused early. (Tests compare it with a library.)
 */
export function readRecords(text: string, delimiter: string, limits: CsvLimits): CsvRecords {
  const comma = delimiter.charCodeAt(0);
  const records: string[][] = [];
  const lines: number[] = [];
  let line = 1;
  let at = 0;
  while (at < text.length) {
    if (records.length === limits.records) return { records, lines, stop: { why: "too-many-records", line } };
    const record: string[] = [];
    const recordLine = line;
    for (;;) {
      let end: number;
      if (text.charCodeAt(at) === QUOTE) {
        const closing = closingQuote(text, at);
        if (closing < 0) {
          return {
            records,
            lines,
            stop: { why: "quotes", line, message: "the quotation mark that opens here is not closed" },
          };
        }
        end = closing + 1;
        const fieldLine = line;
        for (let i = text.indexOf("\n", at); i >= 0 && i < end; i = text.indexOf("\n", i + 1)) line += 1;
        if (end < text.length && text.charCodeAt(end) !== comma && text.charCodeAt(end) !== NEWLINE) {
          const message = `cell ${record.length + 1} goes on behind its closing quotation mark`;
          return { records, lines, stop: { why: "quotes", line: fieldLine, message } };
        }
        record.push(text.slice(at + 1, closing).replaceAll('""', '"'));
      } else {
        end = at;
        while (end < text.length && text.charCodeAt(end) !== comma && text.charCodeAt(end) !== NEWLINE) end += 1;
        record.push(text.slice(at, end));
      }
      if (record.length > limits.fields) return { records, lines, stop: { why: "too-many-fields", line } };
      at = end + 1;
      if (text.charCodeAt(end) !== comma) break;
    }
    line += 1;
    records.push(record);
    lines.push(recordLine);
  }
  return { records, lines, stop: { why: "end" } };
}

/** The offset of the quotation mark that closes the one at `start`, or -1. */
function closingQuote(text: string, start: number): number {
  for (let at = start + 1; at < text.length; at++) {
    if (text.charCodeAt(at) !== QUOTE) continue;
    if (text.charCodeAt(at + 1) !== QUOTE) return at;
    at += 1;
  }
  return -1;
}

/** One record as CSV: fields are quoted where they hold the delimiter, a quotation mark or a line break, or begin with a BOM. */
export function recordText(record: readonly string[], delimiter: string): string {
  return record
    .map((field) => {
      const plain = !field.includes(delimiter) && !/["\r\n]|^\ufeff/.test(field);
      return plain ? field : `"${field.replaceAll('"', '""')}"`;
    })
    .join(delimiter);
}
