/** What a column of a table asks for, in points. */
export interface ColumnNeed {
  /** On one line. */
  readonly natural: number;
  /** With lines broken between words alone. */
  readonly least: number;
}

/**
 * Widths for the columns of a table: what each asks for where there is room for it, else what lies between least and
 * natural is shared out in the measure in which columns asked for more. Undefined where not even the least fits.
 */
export function columnWidths(needs: readonly ColumnNeed[], room: number): readonly number[] | undefined {
  const sum = (of: (need: ColumnNeed) => number) => needs.reduce((total, need) => total + of(need), 0);
  const natural = sum((need) => need.natural);
  if (natural <= room) return needs.map((need) => need.natural);
  const least = sum((need) => need.least);
  if (least > room) return undefined;
  const spare = (room - least) / (natural - least);
  return needs.map((need) => need.least + (need.natural - need.least) * spare);
}

/** Columns, by their places, in groups that fit; the first column stands in each of them. */
export function columnGroups(needs: readonly ColumnNeed[], room: number): readonly (readonly number[])[] {
  const groups: number[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (let c = 1; c < needs.length; c++) {
    if (used + needs[c]!.least > room) {
      groups.push([0]);
      used = needs[0]!.least;
    }
    groups.at(-1)!.push(c);
    used += needs[c]!.least;
  }
  return groups.length === 0 ? [[0]] : groups;
}
