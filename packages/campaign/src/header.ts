import { type Column, SIGNAL_PREFIX } from "./columns.ts";
import { sourceInWords, type Where } from "./finding.ts";
import type { FindingList } from "./finding-list.ts";
import { fittingName } from "./name-text.ts";
import { editDistance, nearestKey } from "./nearest-key.ts";
import { shown, shownName } from "./shown-text.ts";
import type { StructureCode } from "./structure-codes.ts";
import { type StructureDetails, structureFinding } from "./structure-finding.ts";
import type { Table } from "./table.ts";

/** Steps between two names within which one is taken for a slip of the other. */
const SLIP = 2;

/** What is found in a header: the position of each known column. */
export type ColumnPositions = ReadonlyMap<string, number>;

/** A table on its way to being typed. */
export interface TableContext {
  readonly table: Table;
  readonly where: Where & { readonly file: string };
  readonly columns: readonly Column[];
  readonly hasBackground: boolean;
  readonly findings: FindingList;
}

/** True when a column must be there, given the campaign's other series. */
export function isNeeded(column: Column, hasBackground: boolean): boolean {
  return column.needed === "always" || (column.needed === "with-background" && hasBackground);
}

/**
 * Matches a header with the columns of its series. Unknown columns are kept and named; one that is a slip of a needed
 * column that is missing is an error, one that is a slip of an optional column a warning. Blanks around names do not count.
 */
export function matchHeader(context: TableContext): ColumnPositions {
  const { columns } = context;
  const { positions, unknown } = findColumns(context);
  const missing = columns.filter((column) => !positions.has(column.name));
  const needed = missing.filter((column) => isNeeded(column, context.hasBackground));
  const explained = new Set<string>();
  for (const name of unknown) {
    const meant = slipOf(name, needed, () => SLIP);
    if (meant === undefined) judgeUnknown(context, name, missing);
    else {
      explained.add(meant.name);
      const message = `the column ${shown(name)} is unknown, and the needed column ${meant.name} is missing.`;
      const remedy = `Rename the column to ${meant.name}.`;
      report(context, "column-misspelt", message, name, { remedy, facts: { nearest: meant.name } });
    }
  }
  for (const column of needed) if (!explained.has(column.name)) reportMissing(context, column);
  return positions;
}

function findColumns(context: TableContext): { positions: Map<string, number>; unknown: string[] } {
  const known = new Set(context.columns.map((column) => column.name));
  const positions = new Map<string, number>();
  const unknown: string[] = [];
  const seen = new Map<string, number>();
  for (const [i, typed] of context.table.columns.entries()) {
    const name = columnName(typed, known);
    const earlier = seen.get(name);
    if (name === "") report(context, "column-unnamed", `column ${i + 1} has no name.`);
    else if (earlier !== undefined) {
      const message = `columns ${earlier + 1} and ${i + 1} are both called ${shownName(name)}.`;
      report(context, "column-duplicate", message, name);
    } else {
      seen.set(name, i);
      if (known.has(name)) positions.set(name, i);
      else unknown.push(name);
    }
  }
  return { positions, unknown };
}

function judgeUnknown(context: TableContext, name: string, missing: readonly Column[]): void {
  const names = context.columns.map((column) => column.name);
  const signals = names.filter((known) => known.startsWith(SIGNAL_PREFIX));
  if (name.startsWith(SIGNAL_PREFIX) && signals.length > 0) {
    const message = `the column ${shown(name)} is for a channel that the detector does not have.`;
    const remedy = `Signal columns here: ${signals.join(", ")}; or add the channel to alcedo.detector.channels.`;
    report(context, "channel-unknown", message, name, { remedy });
    return;
  }
  const meant = slipOf(name, missing, (length) => Math.min(SLIP, Math.floor(length / 3)));
  if (meant !== undefined) {
    const message = `the column ${shown(name)} is unknown and not evaluated; it looks like ${meant.name}.`;
    const remedy = `Rename the column to ${meant.name} if that is meant.`;
    report(context, "column-doubtful", message, name, { remedy, facts: { nearest: meant.name } });
    return;
  }
  const nearest = nearestKey(name, names);
  const tail = nearest === undefined ? "" : `; the nearest known name is ${nearest}`;
  const message = `the column ${shown(name)} is unknown: kept, not evaluated${tail}.`;
  report(context, "column-unknown", message, name, nearest === undefined ? {} : { facts: { nearest } });
}

function reportMissing(context: TableContext, column: Column): void {
  const why = column.needed === "with-background" ? "; it is needed because the campaign has a background series" : "";
  const unit = column.unit === undefined ? "" : `, in ${column.unit}`;
  const remedy = `Add the column ${column.name}: ${column.meaning}${unit}.`;
  report(context, "column-missing", `the needed column ${column.name} is missing${why}.`, column.name, { remedy });
}

function report(
  { findings, where }: TableContext,
  code: StructureCode,
  message: string,
  column?: string,
  details: StructureDetails = {},
): void {
  const at = column === undefined ? where : { ...where, column };
  findings.add(structureFinding(code, `${sourceInWords(where)}: ${message}`, { ...details, where: at }));
}

/** The first of the columns whose name is within so many steps of a word, letter case aside; short names allow fewer. */
function slipOf(word: string, columns: readonly Column[], allowed: (length: number) => number): Column | undefined {
  return columns.find((column) => {
    const distance = editDistance(word.toLowerCase(), column.name.toLowerCase());
    return distance <= allowed(column.name.length);
  });
}

/** A header's text as a column name: channels in signal columns are fitted like those of the descriptor. */
export function columnName(typed: string, known: Iterable<string>): string {
  const name = typed.trim();
  if (!name.startsWith(SIGNAL_PREFIX)) return name;
  const names = [...known];
  const fitted = SIGNAL_PREFIX + fittingName(name.slice(SIGNAL_PREFIX.length));
  return !names.includes(name) && names.includes(fitted) ? fitted : name;
}

/** Where the column of a name stands, from 0, however its header is typed; -1 where it is not. */
export function columnAt(columns: readonly string[], name: string): number {
  return columns.findIndex((typed) => columnName(typed, [name]) === name);
}
