import type { Campaign } from "./campaign.ts";
import { applyEdits, type Edit } from "./edits.ts";
import type { CellConflict } from "./edits-conflict.ts";
import { mergeDescriptor } from "./edits-merge-descriptor.ts";
import { mergeTable } from "./edits-merge-table.ts";
import { originsAfter } from "./edits-row-origins.ts";

/** Edits to be made after somebody else's, and what they leave open. */
export interface Rebased {
  /** To be applied to `theirs`; without what conflicts. */
  readonly edits: readonly Edit[];
  readonly conflicts: readonly CellConflict[];
}

/**
 * Edits that were made to one state of a campaign, as edits to another that somebody else has made of it meanwhile. Rows are
 * matched by the name of their reading (those without one by what they hold), so that changes to different cells both stay.
 * What both changed differently is left as they have it, and is told; nothing is overwritten in silence.
 *
 * @param base the campaign that both began with
 * @param mine edits to it
 * @param theirs what somebody else made of it
 * @throws EditError where `mine` does not fit `base`
 */
export function rebase(base: Campaign, mine: readonly Edit[], theirs: Campaign): Rebased {
  const wanted = applyEdits(base, mine);
  if (isSame(base, theirs)) return { edits: mine, conflicts: [] };
  const edits: Edit[] = [];
  const conflicts: CellConflict[] = [];
  const descriptor = mergeDescriptor(base.descriptor, wanted.descriptor, theirs.descriptor);
  if (descriptor.changed !== undefined) edits.push({ descriptor: descriptor.changed });
  conflicts.push(...descriptor.conflicts);

  for (const name of tableNames(base, wanted, theirs)) {
    const [before, here, there] = [base, wanted, theirs].map(({ tables }) =>
      Object.hasOwn(tables, name) ? tables[name] : undefined,
    );
    if (isSame(before, here) || isSame(here, there)) continue;
    if (isSame(before, there)) {
      edits.push(...mine.filter((edit) => tableOfEdit(edit) === name));
      continue;
    }
    if (here === undefined || there === undefined) {
      const texts = { base: inBrief(before), mine: inBrief(here), theirs: inBrief(there) };
      conflicts.push({ table: name, reading: "", column: "", ...given(texts) });
      continue;
    }
    const merged = mergeTable(name, { base: before, mine: here, theirs: there }, originsAfter(before, mine, name));
    edits.push(...merged.edits);
    conflicts.push(...merged.conflicts);
  }
  return { edits, conflicts };
}

function tableNames(...campaigns: readonly Campaign[]): string[] {
  return [...new Set(campaigns.flatMap(({ tables }) => Object.keys(tables)))];
}

function tableOfEdit(edit: Edit): string | undefined {
  if ("descriptor" in edit) return undefined;
  if ("put" in edit) return edit.put.name;
  return "cell" in edit ? edit.cell.table : "insert" in edit ? edit.insert.table : edit.remove.table;
}

function inBrief(table: Campaign["tables"][string] | undefined): string | undefined {
  return table && `${table.rows.length} rows, ${table.columns.length} columns`;
}

/** The texts that are there. */
function given(texts: Readonly<Record<"base" | "mine" | "theirs", string | undefined>>) {
  return Object.fromEntries(Object.entries(texts).filter(([, text]) => text !== undefined)) as Partial<
    Record<"base" | "mine" | "theirs", string>
  >;
}

function isSame(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}
