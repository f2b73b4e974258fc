import { ALL_OR_NONE, COMPANIONS, CONDITION_COLUMNS } from "./columns.ts";
import { placeInWords, rowInWords } from "./finding.ts";
import type { FindingList } from "./finding-list.ts";
import { VAGUEST_SIGMA } from "./range.ts";
import type { CellValue } from "./read-cell.ts";
import type { TableSeriesKind } from "./read-descriptor.ts";
import type { TypedRow } from "./read-rows.ts";
import { shown } from "./shown-text.ts";
import type { StructureCode } from "./structure-codes.ts";
import { structureFinding } from "./structure-finding.ts";

/**
 * What must agree between the rows of one table that are in force. Rows with faults of their own take part: what can be
 * read of them is compared, so that all faults come in one go.
 *
 * @param filled names of the columns that the table has
 */
export function checkAgreement(
  series: TableSeriesKind,
  inForce: readonly TypedRow[],
  filled: ReadonlySet<string>,
  findings: FindingList,
): void {
  for (const column of ALL_OR_NONE[series]) if (filled.has(column)) checkAllOrNone(column, inForce, findings);
  for (const [has, needs] of COMPANIONS[series]) if (filled.has(has)) checkCompanion(has, needs, inForce, findings);
  for (const column of CONDITION_COLUMNS[series]) {
    if (filled.has(column)) {
      checkSame(column, (row) => row.condition, "condition-disagrees", "condition", inForce, findings);
    }
  }
  if (series === "separation") {
    const group = (row: TypedRow) => row.cells.get("dose_group")?.text;
    checkDoseGroups(group, inForce, findings);
    checkSame("dose_u_Gy", group, "group-disagrees", "dose group", inForce, findings);
  }
  if (series === "output-factors")
    for (const row of inForce) {
      checkShape(row, filled, findings);
      checkBlur(row, findings);
    }
}

function checkAllOrNone(column: string, rows: readonly TypedRow[], findings: FindingList): void {
  // A cell that holds something unreadable has its own error and counts as filled in.
  const empty = rows.filter((row) => !row.cells.has(column) && !row.unreadable.has(column));
  if (empty.length === 0 || empty.length === rows.length) return;
  const first = empty[0]!;
  const where = { ...first.where(), column };
  const message = `${placeInWords(where)}: the cell is empty, while ${rows.length - empty.length} of ${rows.length} readings have ${column}; empty in all: ${empty.length}.`;
  const effect =
    column === "time"
      ? "The order in time is unknown."
      : "Readings with and without it cannot be compared with each other.";
  const remedy = `Fill in ${column} for every reading, or for none; or exclude the readings without it.`;
  findings.add(structureFinding("column-partial", message, { where, effect, remedy, facts: { empty: empty.length } }));
}

function checkCompanion(has: string, needs: string, rows: readonly TypedRow[], findings: FindingList): void {
  for (const row of rows) {
    if (!row.cells.has(has) || row.cells.has(needs) || row.unreadable.has(needs)) continue;
    const where = { ...row.where(), column: has };
    const message = `${placeInWords(where)}: ${has} is given without ${needs}.`;
    findings.add(structureFinding("pair-incomplete", message, { where, remedy: `Fill in ${needs}, or empty ${has}.` }));
  }
}

/** Within one condition or group a column holds one value, or is empty throughout; an error for each row that departs. */
function checkSame(
  column: string,
  groupOf: (row: TypedRow) => string | undefined,
  code: StructureCode,
  what: string,
  rows: readonly TypedRow[],
  findings: FindingList,
): void {
  const firstOf = new Map<string, TypedRow>();
  for (const row of rows) {
    const group = groupOf(row);
    if (group === undefined || row.unreadable.has(column)) continue;
    const first = firstOf.get(group);
    if (first === undefined) firstOf.set(group, row);
    else if (!sameCell(first.cells.get(column), row.cells.get(column))) {
      const where = { ...row.where(), column };
      const message = `${placeInWords(where)}: ${inWords(row.cells.get(column))}, but ${inWords(first.cells.get(column))} in ${rowInWords(first.where())} of the same ${what} ${shown(group)}.`;
      findings.add(structureFinding(code, message, { where, facts: { otherRow: first.row } }));
    }
  }
}

/** Numbers agree by value, 10 and 10.0 alike; words by their text. */
function sameCell(a: CellValue | undefined, b: CellValue | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  return a.number === undefined ? a.text === b.text : a.number === b.number;
}

function inWords(cell: CellValue | undefined): string {
  return cell === undefined ? "nothing" : shown(cell.text);
}

function checkDoseGroups(
  groupOf: (row: TypedRow) => string | undefined,
  rows: readonly TypedRow[],
  findings: FindingList,
): void {
  const groups = new Map<string, { with?: TypedRow; without?: TypedRow }>();
  for (const row of rows) {
    const name = groupOf(row);
    if (name === undefined || row.unreadable.has("dose_Gy")) continue;
    const group = groups.get(name) ?? {};
    if (row.cells.has("dose_Gy")) group.with ??= row;
    else group.without ??= row;
    groups.set(name, group);
  }
  for (const [name, group] of groups) {
    if (group.with === undefined || group.without === undefined) continue;
    const where = { ...group.without.where(), column: "dose_Gy" };
    const message = `${placeInWords(where)}: no dose, while ${rowInWords(group.with.where())} of the same dose group ${shown(name)} has one.`;
    findings.add(structureFinding("dose-partial", message, { where, facts: { otherRow: group.with.row } }));
  }
}

/** A rectangle has x_mm and y_mm and no diameter, a circle the reverse. Columns that are not there at all are reported once. */
function checkShape(row: TypedRow, filled: ReadonlySet<string>, findings: FindingList): void {
  const shape = row.cells.get("shape")?.text;
  if (shape === undefined) return;
  const rectangle = ["x_mm", "y_mm"];
  const circle = ["diameter_mm"];
  const [needs, mustNot] = shape === "rectangle" ? [rectangle, circle] : [circle, rectangle];
  for (const column of needs.filter((name) => filled.has(name) && !row.cells.has(name) && !row.unreadable.has(name))) {
    const where = { ...row.where(), column };
    findings.add(
      structureFinding("shape-size", `${placeInWords(where)}: a ${shape} needs ${column}; the cell is empty.`, {
        where,
      }),
    );
  }
  for (const column of mustNot.filter((name) => row.cells.has(name))) {
    const where = { ...row.where(), column };
    findings.add(
      structureFinding("shape-size", `${placeInWords(where)}: a ${shape} has no ${column}.`, {
        where,
        remedy: "Empty the cell, or correct the shape.",
      }),
    );
  }
}

/** A blur that is known to less than half of itself could be drawn as nothing. */
function checkBlur(row: TypedRow, findings: FindingList): void {
  const [sigma, u] = ["sigma_mm", "sigma_u_mm"].map((name) => row.cells.get(name)?.number);
  if (sigma === undefined || u === undefined || u <= VAGUEST_SIGMA * sigma) return;
  const where = { ...row.where(), column: "sigma_u_mm" };
  const message = `${placeInWords(where)}: ${u} is more than half of sigma_mm, ${sigma}; the blur is drawn between sigma_mm ± √3·sigma_u_mm, which must stay above zero.`;
  const remedy = "State the standard uncertainty, not a range.";
  findings.add(structureFinding("number-range", message, { where, remedy }));
}

/** Sizes that some row's shape needs and the table has no column for. */
export function missingSizeColumns(inForce: readonly TypedRow[], filled: ReadonlySet<string>): string[] {
  const shapes = new Set(inForce.map((row) => row.cells.get("shape")?.text));
  const needed = [
    ...(shapes.has("rectangle") ? ["x_mm", "y_mm"] : []),
    ...(shapes.has("circle") ? ["diameter_mm"] : []),
  ];
  return needed.filter((column) => !filled.has(column));
}
