import { placeInWords, rowInWords } from "./finding.ts";
import type { FindingList } from "./finding-list.ts";
import type { TypedRow } from "./read-rows.ts";
import { shown } from "./shown-text.ts";
import { structureFinding } from "./structure-finding.ts";

/**
 * Each value of a reference set is for a condition or for an equivalent square, and each source has one value for it.
 */
export function checkReferenceValues(rows: readonly TypedRow[], findings: FindingList): void {
  const firstOf = new Map<string, TypedRow>();
  for (const row of rows) {
    const condition = row.condition;
    const square = row.cells.get("equivalent_square_mm")?.number;
    if (condition === undefined && square === undefined) {
      if (row.faulty || row.cells.has("condition")) continue;
      const where = { ...row.where(), column: "condition" };
      const message = `${placeInWords(where)}: neither a condition nor an equivalent square is given.`;
      findings.add(
        structureFinding("cell-missing", message, { where, remedy: "Fill in condition or equivalent_square_mm." }),
      );
      continue;
    }
    const source = row.cells.get("source")?.text;
    if (source === undefined) continue;
    const key = JSON.stringify([source, condition ?? square]);
    const first = firstOf.get(key);
    if (first === undefined) {
      firstOf.set(key, row);
      continue;
    }
    const message = `${placeInWords(row.where())}: ${shown(source)} has a value for ${condition ?? `${square} mm`} already in ${rowInWords(first.where())}.`;
    findings.add(
      structureFinding("reference-duplicate", message, { where: row.where(), facts: { otherRow: first.row } }),
    );
  }
}
