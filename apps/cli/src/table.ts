import { padded, textWidth } from "./text-width.ts";
import { wrap } from "./wrap.ts";

/** One column of a table on the terminal. */
export interface TableColumn {
  readonly head: string;
  readonly align?: "right";
  /** May be left out where the terminal is too narrow; the last such column goes first, and the reader is told. */
  readonly optional?: boolean;
  /** Takes what the others leave; longer texts go on in further lines. */
  readonly flexible?: boolean;
  /** Columns of text below which a flexible column is not shrunk. */
  readonly least?: number;
  /** Colours a finished cell. */
  readonly ink?: (text: string) => string;
}

/** A table laid out, and the heads of the columns for which there was no room. */
export interface TableLayout {
  readonly lines: readonly string[];
  readonly leftOut: readonly string[];
}

/** Blanks between columns: two, or one where that saves a column. */
const GAPS = [2, 1] as const;
/** Below this a flexible column reads worse than a line that the terminal breaks. */
const NARROWEST = 16;

/** Lays a table out in so many columns of text: cells are plain text, one list per row. */
export function layTable(
  columns: readonly TableColumn[],
  rows: readonly (readonly string[])[],
  width: number,
  dim: (text: string) => string,
): TableLayout {
  const natural = columns.map(({ head }, c) =>
    rows.reduce((w, row) => Math.max(w, textWidth(row[c]!)), textWidth(head)),
  );
  const kept = columns.map((_, c) => c);
  const leftOut: string[] = [];
  const need = (c: number) =>
    columns[c]!.flexible ? Math.min(natural[c]!, columns[c]!.least ?? NARROWEST) : natural[c]!;
  let gap: number = GAPS[0];
  const total = (of: (c: number) => number) => kept.reduce((sum, c) => sum + of(c), 0) + gap * (kept.length - 1);
  while (total(need) > width) {
    if (!kept.some((c) => columns[c]!.optional) && gap > GAPS[1]) {
      gap = GAPS[1];
      continue;
    }
    const last = kept.findLastIndex((c) => columns[c]!.optional);
    if (last < 0) break;
    leftOut.unshift(columns[kept[last]!]!.head);
    kept.splice(last, 1);
  }
  const spare = Math.max(0, width - total(need));
  const widths = natural.map((full, c) => (columns[c]!.flexible ? Math.min(full, need(c) + spare) : full));
  const line = (cells: readonly string[], ink: (c: number, text: string) => string): string[] => {
    const parts = kept.map((c) => (columns[c]!.flexible ? wrap(cells[c]!, widths[c]!) : [cells[c]!]));
    const height = Math.max(...parts.map((part) => part.length));
    return Array.from({ length: height }, (_, k) => {
      const texts = kept.map((c, i) => {
        const text = parts[i]![k] ?? "";
        const isLast = i === kept.length - 1;
        return ink(c, isLast && columns[c]!.align !== "right" ? text : padded(text, widths[c]!, columns[c]!.align));
      });
      return texts.join(" ".repeat(gap)).trimEnd();
    });
  };
  const heads = line(
    columns.map(({ head }) => head),
    (_, text) => dim(text),
  );
  const body = rows.flatMap((row) => line(row, (c, text) => columns[c]!.ink?.(text) ?? text));
  return { lines: [...heads, ...body], leftOut };
}
