import { type Column, shown } from "@alcedo-dosimetry/campaign";
import { paddedDecimal, shiftedDecimal } from "@alcedo-dosimetry/tabular";
import { type Cell, serialToIso } from "@alcedo-dosimetry/tabular/workbook";
import type { CellPlace, SheetNotes } from "./sheet-notes.ts";

/** What is known of a cell's column. */
export interface SheetColumn {
  readonly name: string;
  readonly column?: Column;
  /** Power of ten from the header's unit to the column's. */
  readonly power: number;
  /** Offset from UTC that the header states. */
  readonly offset?: string;
}

/** A cell's text, and whether the spreadsheet holds it as a number. */
export interface CellText {
  readonly text: string;
  readonly isNumber: boolean;
}

/**
 * The text of one cell as a table keeps it. A number is its shortest text, with as many zeros behind it as its format shows; a
 * percentage in a column of per cent is the number that is seen; a date becomes a time of ISO 8601 where the header states the
 * offset from UTC. Whatever is converted, or cannot be taken, is noted.
 */
export function cellText(
  { content, format, formula }: Cell,
  place: CellPlace,
  { name, column, power, offset }: SheetColumn,
  from1904: boolean,
  notes: SheetNotes,
): CellText {
  const plain = (text: string): CellText => ({ text, isNumber: false });
  const where = { column: name };
  if (content.kind === "uncomputed") {
    notes.note("formula-uncomputed", place, {
      one: "cell has a formula without a stored value",
      many: "cells have formulas without stored values",
    });
    return plain("");
  }
  if (content.kind === "error") {
    notes.note("cell-error", place, {
      one: `cell holds the error ${shown(content.text)}`,
      many: `cells hold the error ${shown(content.text)}`,
      where,
    });
    return plain("");
  }
  if (formula)
    notes.note("formula-value", place, {
      one: "cell holds a formula; its stored value is taken",
      many: "cells hold formulas; their stored values are taken",
    });
  if (content.kind === "boolean") return plain(content.value ? "TRUE" : "FALSE");
  if (content.kind === "text") {
    if (column?.kind !== "number" || power === 0) return plain(content.text.replace(/\r\n?/g, "\n"));
    return plain(shiftedText(content.text.trim(), power) ?? content.text);
  }
  const isDate = content.kind === "iso-date" || format.shows === "date";
  if (isDate) return plain(timeText(content, place, name, offset, from1904, notes));
  if (format.shows === "percent" && column?.unit === "%") {
    notes.note("percent-converted", place, {
      one: `cell of ${name} is formatted as a percentage; the number before its per cent sign is taken`,
      many: `cells of ${name} are formatted as percentages; the numbers before their per cent signs are taken`,
      where,
    });
    return { text: paddedDecimal(shiftedDecimal(content.text, 2) ?? content.text, format.decimals), isNumber: true };
  }
  // What a percentage shows are two decimals less than the number has.
  const decimals = format.shows === "number" ? format.decimals : format.shows === "percent" ? format.decimals + 2 : 0;
  const text = paddedDecimal(content.text, decimals);
  return { text: power === 0 ? text : (shiftedDecimal(text, power) ?? text), isNumber: true };
}

/** A number typed as text times a power of ten, whichever decimal sign it has; `undefined` where it is no number. */
function shiftedText(text: string, power: number): string | undefined {
  const comma = text.includes(",") && !text.includes(".");
  const shifted = shiftedDecimal(comma ? text.replace(",", ".") : text, power);
  return comma ? shifted?.replace(".", ",") : shifted;
}

function timeText(
  content: { readonly kind: string; readonly text: string },
  place: CellPlace,
  name: string,
  offset: string | undefined,
  from1904: boolean,
  notes: SheetNotes,
): string {
  const where = { column: name };
  const iso = content.kind === "iso-date" ? isoTime(content.text) : serialToIso(Number(content.text), from1904);
  if (name !== "time" || iso === undefined) {
    notes.note("cell-date", place, {
      one: `cell of ${name} is stored as a date or time`,
      many: `cells of ${name} are stored as dates or times`,
      where,
      ...(name === "time" && { remedy: "Write date and time of day, as a text like 2026-03-14T09:26:53+01:00." }),
    });
    return "";
  }
  if (offset === undefined) {
    notes.note("time-without-offset", place, {
      one: "time is stored as a date, which has no offset from UTC",
      many: "times are stored as dates, which have no offset from UTC",
      where,
    });
    return "";
  }
  notes.note("time-converted", place, {
    one: `time is read from a date with the header's offset ${offset}`,
    many: `times are read from dates with the header's offset ${offset}`,
    where,
    facts: { offset },
  });
  return iso + offset;
}

/** A date that the file holds as text: only one with a time of day and without an offset of its own is like the others. */
function isoTime(text: string): string | undefined {
  return /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,9})?$/.test(text) ? text : undefined;
}
