import { COLUMN_LIMIT, readRecords } from "@alcedo-dosimetry/tabular";

/** The delimiters that tables may have. */
export const DELIMITERS = [",", ";", "\t"] as const;

/** A table's delimiter. */
export type Delimiter = (typeof DELIMITERS)[number];

/** In words, for messages. */
export const DELIMITER_NAMES: Readonly<Record<Delimiter, string>> = { ",": "comma", ";": "semicolon", "\t": "tab" };

const SAMPLE = { records: 50, fields: COLUMN_LIMIT };

/** What a delimiter makes of the first records. */
interface Trial {
  readonly delimiter: Delimiter;
  readonly fields: number;
  readonly known: number;
  readonly consistent: boolean;
}

/**
 * Finds the delimiter by looking: each is tried on the first fifty records. One that leaves the header in one piece is none.
 * Of the others the one whose header holds most known column names wins, then the one under which all records are
 * as long as the header.
 *
 * @returns the delimiter, or those that fit equally well (none when the header stays in one piece)
 */
export function findDelimiter(text: string, isKnown: (name: string) => boolean): Delimiter | readonly Delimiter[] {
  const trials = DELIMITERS.map((delimiter) => tryDelimiter(text, delimiter, isKnown)).filter(
    (trial) => trial.fields > 1,
  );
  const most = Math.max(0, ...trials.map((trial) => trial.known));
  const best = trials.filter((trial) => trial.known === most);
  const consistent = best.filter((trial) => trial.consistent);
  const candidates = consistent.length > 0 ? consistent : best;
  return candidates.length === 1 ? candidates[0]!.delimiter : candidates.map((trial) => trial.delimiter);
}

/** The number of cells into which a delimiter divides the header. */
export function headerWidth(text: string, delimiter: Delimiter): number {
  return readRecords(text, delimiter, { ...SAMPLE, records: 1 }).records[0]?.length ?? 0;
}

function tryDelimiter(text: string, delimiter: Delimiter, isKnown: (name: string) => boolean): Trial {
  const { records, stop } = readRecords(text, delimiter, SAMPLE);
  // A header that is too wide even to be taken apart is divided by this delimiter all the same.
  if (records.length === 0 && stop.why === "too-many-fields") {
    return { delimiter, fields: SAMPLE.fields, known: 0, consistent: false };
  }
  const header = records[0] ?? [];
  return {
    delimiter,
    fields: header.length,
    known: header.filter((name) => isKnown(name.trim())).length,
    consistent: records.every(
      (record) => record.length === header.length || (record.length === 1 && record[0]!.trim() === ""),
    ),
  };
}
