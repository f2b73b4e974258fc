import { shownName } from "./shown-text.ts";

/** How much a finding matters: `error` no result, `warning` a result but look at it, `notice` worth knowing. */
export type FindingLevel = "error" | "warning" | "notice";

/**
 * The place that a finding speaks of. Every part is optional; what is known is given.
 *
 * `row` counts the readings of a table from 1 (the header is not counted), `line` is the physical line in the file
 * from 1 (the header is usually line 1), `key` is a JSON Pointer (RFC 6901) into `file`, such as `/alcedo/beam/ssd_mm`.
 */
export interface Where {
  readonly series?: string;
  readonly reading?: string;
  readonly condition?: string;
  readonly column?: string;
  readonly file?: string;
  /** The sheet, where the campaign came from a workbook; `line` is then the row as the spreadsheet counts. */
  readonly sheet?: string;
  readonly row?: number;
  readonly line?: number;
  readonly key?: string;
}

/**
 * Something the tool noticed, as data. The code is stable and may be relied upon; the message may be reworded.
 *
 * @see structure-codes.ts for the codes about the form of a campaign
 */
export interface Finding {
  readonly level: FindingLevel;
  /** Stable name of the rule, in kebab case. */
  readonly code: string;
  /** What is wrong and where, as a sentence or two. */
  readonly message: string;
  /** What it does to the results. */
  readonly effect?: string;
  /** How to mend it. */
  readonly remedy?: string;
  readonly where?: Where;
  /** The figures behind the message, for programs. */
  readonly facts?: Readonly<Record<string, string | number>>;
}

/** True when a finding stands in the way of a result. */
export function isError(finding: Finding): boolean {
  return finding.level === "error";
}

/** The file, or the sheet of a workbook: `separation.csv`, `sheet separation`; the series where neither is known. */
export function sourceInWords(where: Where): string {
  if (where.sheet !== undefined) return `sheet ${shownName(where.sheet)}`;
  return where.file ?? `series ${where.series}`;
}

/** `row 4 (line 5)`, or of a sheet `row 5`: the row as whoever looks for it counts. */
export function rowInWords({ sheet, row, line }: Where): string {
  if (sheet !== undefined && line !== undefined) return `row ${line}`;
  if (row === undefined) return `line ${line}`;
  return line === undefined ? `row ${row}` : rowAndLine(row, line);
}

/** The same place in words: `separation.csv, row 4 (line 5), column signal_blue`. */
export function placeInWords(where: Where): string {
  const parts: string[] = [];
  if (where.sheet !== undefined || where.file !== undefined || where.series !== undefined)
    parts.push(sourceInWords(where));
  if (where.row !== undefined || where.line !== undefined) parts.push(rowInWords(where));
  if (where.column !== undefined) parts.push(`column ${where.column}`);
  return parts.join(", ");
}

/** `row 4 (line 5)`: the reading's number and where an editor shows it. */
export function rowAndLine(row: number, line: number): string {
  return `row ${row} (line ${line})`;
}
