import type { Campaign } from "./campaign.ts";
import { afterBatch, batches, columnPosition, type Edit, type EditBatch, editedTable } from "./edits.ts";
import type { Table } from "./table.ts";

/**
 * The edits that take edits back: applied after them they give the same campaign, byte for byte, the order of its tables
 * and its line numbers included.
 *
 * @param campaign as it is before the edits
 * @throws EditError as {@link applyEdits} does
 */
export function inverseOf(campaign: Campaign, edits: readonly Edit[]): readonly Edit[] {
  const back: Edit[][] = [];
  let before = campaign;
  for (const batch of batches(edits)) {
    const after = afterBatch(before, batch);
    back.push(inverseOfBatch(before, batch));
    before = after;
  }
  return back.reverse().flat();
}

function inverseOfBatch(before: Campaign, batch: EditBatch): Edit[] {
  if ("descriptor" in batch) return [{ descriptor: before.descriptor }];
  if ("put" in batch) return inverseOfPut(before, batch.put);
  if ("insert" in batch) {
    const { table, at, rows } = batch.insert;
    return [{ remove: { table, at, count: rows.length } }];
  }
  if ("remove" in batch) {
    const { table: name, at, count } = batch.remove;
    const table = editedTable(before, name);
    if (!linesComeBack(table, at, count)) return [{ put: { name, table } }];
    return [{ insert: { table: name, at, rows: table.rows.slice(at, at + count) } }];
  }
  const table = editedTable(before, batch.table);
  const first = new Map<string, Edit>();
  for (const { row, column } of batch.cells) {
    const index = columnPosition(table.columns, column);
    if (index < 0) return [{ put: { name: batch.table, table } }]; // no edit takes a column away
    const place = `${row} ${index}`;
    const cell = { table: batch.table, row, column, text: table.rows[row]![index]! };
    if (!first.has(place)) first.set(place, { cell });
  }
  return [...first.values()];
}

/** Whether rows that are put in again get the line numbers that they have. */
function linesComeBack({ lines }: Table, at: number, count: number): boolean {
  const next = lines[at + count];
  const first = at > 0 ? lines[at - 1]! + 1 : next === undefined ? 2 : next - count;
  return lines.slice(at, at + count).every((line, i) => line === first + i);
}

/** A table that comes back stands behind the others: those that stood behind it are taken out and put behind it again. */
function inverseOfPut({ tables }: Campaign, { name, table }: Extract<Edit, { put: object }>["put"]): Edit[] {
  if (!Object.hasOwn(tables, name)) return [{ put: { name } }];
  const back: Edit = { put: { name, table: tables[name]! } };
  if (table !== undefined) return [back];
  const names = Object.keys(tables);
  const behind = names.slice(names.indexOf(name) + 1);
  const again = behind.flatMap((other): Edit[] => [
    { put: { name: other } },
    { put: { name: other, table: tables[other]! } },
  ]);
  return [back, ...again];
}
