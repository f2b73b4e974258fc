import { type Campaign, isNumberText } from "@alcedo-dosimetry/campaign";
import { asTable } from "../../look/decimal-sign.ts";
import { type At, type EntryField, placeOf, textsOf } from "./next-reading.ts";

/** What is being typed: texts by the column of their field, and which field is typed in. */
export interface Entry {
  readonly texts: Readonly<Record<string, string>>;
  readonly field: number;
  /** The reading that is corrected; absent where a new one is typed. */
  readonly corrects?: string;
  /** What is wrong with the field that is typed in. */
  readonly fault?: string;
}

/** Nothing typed yet. */
export const EMPTY: Entry = { texts: {}, field: 0 };

/** What becomes of an entry at Enter: goes on to the next field, complains, or is whole. */
export type Entered = { readonly goes: Entry } | { readonly whole: ReadonlyMap<string, string> };

/** Takes the field that is typed in, in the decimal sign of the table: on to the next, or whole after the last. */
export function entered(entry: Entry, fields: readonly EntryField[], decimal: "." | ","): Entered {
  const { column, name } = fields[entry.field]!;
  const text = asTable(entry.texts[column] ?? "", decimal);
  if (text === "") return { goes: { ...entry, fault: `${name} is still empty: type what the reader shows.` } };
  if (!isNumberText(text, decimal))
    return {
      goes: {
        ...entry,
        fault: `${text} is no number: digits with one decimal ${decimal === "." ? "point" : "comma"}.`,
      },
    };
  const { fault: _, ...rest } = entry;
  const goes = { ...rest, texts: { ...entry.texts, [column]: text } };
  if (entry.field + 1 < fields.length) return { goes: { ...goes, field: entry.field + 1 } };
  // a field that was passed over by hand
  const open = fields.findIndex((field) => !isNumberText(goes.texts[field.column] ?? "", decimal));
  if (open >= 0) return { goes: { ...goes, field: open, fault: `${fields[open]!.name} is still missing.` } };
  return { whole: new Map(fields.map((field) => [field.column, goes.texts[field.column]!])) };
}

/** What is typed after Backspace on an empty field: the field before, or the last reading again, to be corrected. */
export function back(
  entry: Entry,
  fields: readonly EntryField[],
  campaign: Campaign,
  at: At,
  last: string | undefined,
): Entry {
  if (entry.field > 0) {
    const { fault: _, ...rest } = entry;
    return { ...rest, field: entry.field - 1 };
  }
  if (entry.corrects !== undefined || last === undefined) return entry;
  return correcting(fields, campaign, at, last) ?? entry;
}

/** A reading's own texts, to be typed over; undefined where it is gone. */
export function correcting(
  fields: readonly EntryField[],
  campaign: Campaign,
  at: At,
  reading: string,
): Entry | undefined {
  if (!placeOf(campaign, at.series, reading)) return undefined;
  const columns = fields.map(({ column }) => column);
  return { texts: textsOf(campaign, at, reading, columns), field: fields.length - 1, corrects: reading };
}
