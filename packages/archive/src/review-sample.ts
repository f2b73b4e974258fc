import {
  type Campaign,
  columnName,
  columnsOf,
  isBlankRow,
  isNumberText,
  outlineOf,
  type Table,
} from "@alcedo-dosimetry/campaign";
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";

/** A reading that a reviewer is to type again from paper: where it stands, and which of its columns. */
export interface SampledReading {
  readonly table: string;
  readonly reading: string;
  readonly columns: readonly string[];
}

/** One cell that a reviewer has typed from paper. */
export interface EnteredCell {
  readonly table: string;
  readonly reading: string;
  readonly column: string;
  readonly text: string;
}

/** Of so many readings one is typed again; at least three are. */
const [ONE_OF, AT_LEAST] = [10, 3];

/** What a reader or a reference instrument showed, and somebody wrote down. */
const WRITTEN_DOWN = (column: string) => column.startsWith("signal_") || ["monitor", "temperature_C"].includes(column);

interface Candidate extends SampledReading {
  readonly texts: readonly string[];
  readonly decimal: Table["decimal"];
}

/**
 * The readings that a reviewer types again: a tenth of those with figures, at least three. The seal of the measurer's
 * signature draws them, so that nobody chooses and everybody can draw them again: the readings whose SHA-256 over seal,
 * table and name, a line each, is least.
 *
 * @param seal 64 hexadecimal digits
 */
export function reviewSampleOf(campaign: Campaign, seal: string): SampledReading[] {
  return drawn(campaign, seal).map(({ table, reading, columns }) => ({ table, reading, columns }));
}

/**
 * Where what was entered from paper is not what is kept, as numbers: `6.50` is `6,5`. A cell of the sample that was not
 * entered is among them, and so is one that is no number.
 */
export function mismatches(
  campaign: Campaign,
  seal: string,
  entered: readonly EnteredCell[],
): Omit<EnteredCell, "text">[] {
  const place = (...parts: readonly string[]) => JSON.stringify(parts);
  const typed = new Map(entered.map(({ table, reading, column, text }) => [place(table, reading, column), text]));
  return drawn(campaign, seal).flatMap(({ table, reading, columns, texts, decimal }) =>
    columns.flatMap((column, i) => {
      const again = numberOf(typed.get(place(table, reading, column)) ?? "");
      // what is kept is a number, or the cell would not be in the sample
      return again === numberIn(texts[i]!, decimal) ? [] : [{ table, reading, column }];
    }),
  );
}

function drawn(campaign: Campaign, seal: string): Candidate[] {
  const all = candidates(campaign);
  const lot = ({ table, reading }: Candidate) => bytesToHex(sha256(utf8ToBytes(`${seal}\n${table}\n${reading}`)));
  const lots = all.map((candidate) => ({ candidate, lot: lot(candidate) }));
  const least = lots.toSorted((a, b) => (a.lot < b.lot ? -1 : 1));
  const count = Math.max(AT_LEAST, Math.ceil(all.length / ONE_OF));
  const chosen = new Set(least.slice(0, count).map(({ candidate }) => candidate));
  return all.filter((candidate) => chosen.has(candidate));
}

/** Readings with a name of their own and a figure that was written down, in the order of the tables. */
function candidates({ descriptor, tables }: Campaign): Candidate[] {
  const { channels = [], resources = [] } = outlineOf(descriptor) ?? {};
  return resources.flatMap(({ name, series }) => {
    if (!Object.hasOwn(tables, name)) return [];
    const { columns, rows, decimal } = tables[name]!;
    const known = columnsOf(series, channels).map((column) => column.name);
    const names = columns.map((typed) => columnName(typed, known));
    const at = names.indexOf("reading");
    const often = new Map<string, number>();
    for (const row of rows) often.set(row[at] ?? "", (often.get(row[at] ?? "") ?? 0) + 1);
    return rows.flatMap((row): Candidate[] => {
      const reading = row[at] ?? "";
      if (isBlankRow(row) || reading.trim() === "" || often.get(reading) !== 1) return [];
      const figures = names.flatMap((column, i) =>
        known.includes(column) && WRITTEN_DOWN(column) && numberIn(row[i]!, decimal) !== undefined
          ? [{ column, text: row[i]! }]
          : [],
      );
      if (figures.length === 0) return [];
      const columnsOfReading = figures.map(({ column }) => column);
      return [{ table: name, reading, columns: columnsOfReading, texts: figures.map(({ text }) => text), decimal }];
    });
  });
}

function numberIn(text: string, decimal: Table["decimal"]): number | undefined {
  const plain = text.trim();
  return isNumberText(plain, decimal) ? Number(plain.replace(",", ".")) : undefined;
}

/** A number with point or comma, as the reviewer likes to type it. */
function numberOf(text: string): number | undefined {
  return numberIn(text, ".") ?? numberIn(text, ",");
}
