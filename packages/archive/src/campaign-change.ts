import { applyEdits, type Campaign, columnAt, type Edit, EditError, type Table } from "@alcedo-dosimetry/campaign";
import { ArchiveError } from "./archive-error.ts";

/**
 * What a revision of a campaign says, as JSON: the whole document, with the order of its keys; or a reading more; or
 * another text in one cell of a reading; or edits. All but the first are made to the document that the revision's `base`
 * holds, and may bear the key that they were sent under; now and then one of them holds the whole document after it too.
 */
export type CampaignChange =
  /** `as`: the revision whose document this one brings back. */
  | { readonly campaign: Campaign; readonly as?: number }
  | {
      readonly reading: { readonly table: string; readonly cells: Readonly<Record<string, string>> };
      readonly key?: string;
    }
  | { readonly edits: readonly Edit[]; readonly key?: string }
  | {
      readonly cell: {
        readonly table: string;
        readonly reading: string;
        readonly column: string;
        readonly text: string;
      };
    };

/**
 * The campaign after a change.
 *
 * @param campaign as it was before; undefined before the first revision
 * @throws ArchiveError where the change does not fit the campaign: no such table or reading, a reading that is there already
 */
export function afterChange(campaign: Campaign | undefined, change: CampaignChange): Campaign {
  if ("campaign" in change) return change.campaign;
  if (campaign === undefined) throw invalid("A change needs a campaign to be made to.", "Keep the campaign first.");
  if ("edits" in change) return afterEdits(campaign, change.edits);
  if ("reading" in change) {
    const { table, cells } = change.reading;
    return withTable(campaign, table, withReading(table, tableOf(campaign, table), cells));
  }
  const { table, reading, column, text } = change.cell;
  return withTable(campaign, table, withCell(table, tableOf(campaign, table), reading, column, text));
}

function afterEdits(campaign: Campaign, edits: readonly Edit[]): Campaign {
  try {
    return applyEdits(campaign, edits);
  } catch (error) {
    if (!(error instanceof EditError)) throw error;
    const { message, remedy } = error;
    throw invalid(message.slice(0, -remedy.length - 1), remedy);
  }
}

function withReading(name: string, table: Table, cells: Readonly<Record<string, string>>): Table {
  const reading = cells["reading"] ?? "";
  if (reading.trim() === "") throw invalid(`A reading of ${name} has no name.`, "Give it one in the column reading.");
  if (rowsOf(table, reading).length > 0) {
    throw invalid(`The table ${name} has a reading ${reading} already.`, "Give the new one another name.");
  }
  const wide = Object.keys(cells).reduce(withColumn, table);
  const row = wide.columns.map(() => "");
  for (const [column, text] of Object.entries(cells)) row[columnAt(wide.columns, column)] = text;
  return { ...wide, rows: [...wide.rows, row], lines: [...wide.lines, (wide.lines.at(-1) ?? 1) + 1] };
}

function withCell(name: string, table: Table, reading: string, column: string, text: string): Table {
  const [row, second] = rowsOf(table, reading);
  if (row === undefined)
    throw invalid(`The table ${name} has no reading ${reading}.`, "Look the name up in the table.");
  if (second !== undefined)
    throw invalid(`The table ${name} has two readings ${reading}.`, "Rename one of them first.");
  const wide = withColumn(table, column);
  const index = columnAt(wide.columns, column);
  const changed = wide.rows[row]!.map((cell, i) => (i === index ? text : cell));
  return { ...wide, rows: wide.rows.map((cells, i) => (i === row ? changed : cells)) };
}

/** The table with a column of this name: its own, or an empty one behind the others. */
function withColumn(table: Table, column: string): Table {
  if (column.trim() === "") throw invalid("A column has no name.", "Name the column.");
  if (columnAt(table.columns, column) >= 0) return table;
  return { ...table, columns: [...table.columns, column], rows: table.rows.map((row) => [...row, ""]) };
}

/** The rows, from 0, of the readings of a name. */
function rowsOf(table: Table, reading: string): number[] {
  const column = columnAt(table.columns, "reading");
  if (column < 0) throw invalid(`${table.path} has no column reading.`, "Give each reading a name in such a column.");
  return table.rows.flatMap((row, index) => (row[column] === reading ? [index] : []));
}

function tableOf(campaign: Campaign, name: string): Table {
  if (Object.hasOwn(campaign.tables, name)) return campaign.tables[name]!;
  const known = Object.keys(campaign.tables).join(", ");
  throw invalid(`The campaign has no table ${name}.`, `Its tables are ${known === "" ? "none" : known}.`);
}

function withTable(campaign: Campaign, name: string, table: Table): Campaign {
  return { ...campaign, tables: { ...campaign.tables, [name]: table } };
}

function invalid(message: string, remedy: string): ArchiveError {
  return new ArchiveError("invalid", message, remedy);
}
