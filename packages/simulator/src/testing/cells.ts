import type { Campaign } from "@alcedo-dosimetry/campaign";

/** The cells of one column of a table, of a condition where one is named. */
export function cells(campaign: Campaign, series: string, column: string, condition?: string): string[] {
  const table = campaign.tables[series];
  const at = table?.columns.indexOf(column) ?? -1;
  if (!table || at < 0) throw new Error(`no column ${column} in ${series}`);
  const name = table.columns.indexOf("condition");
  return table.rows.filter((row) => condition === undefined || row[name] === condition).map((row) => row[at]!);
}

/** The same as numbers. */
export function numbers(campaign: Campaign, series: string, column: string, condition?: string): number[] {
  return cells(campaign, series, column, condition).map(Number);
}

/** Where two campaigns differ, as `series/reading/column`; a row that only one has is `series/reading`. */
export function differences(a: Campaign, b: Campaign): string[] {
  const found: string[] = [];
  for (const series of new Set([...Object.keys(a.tables), ...Object.keys(b.tables)])) {
    const [mine, other] = [rowsOf(a, series), rowsOf(b, series)];
    for (const reading of new Set([...mine.keys(), ...other.keys()])) {
      const [row, own] = [mine.get(reading), other.get(reading)];
      if (!row || !own) found.push(`${series}/${reading}`);
      else
        for (const column of new Set([...Object.keys(row), ...Object.keys(own)]))
          if ((row[column] ?? "") !== (own[column] ?? "")) found.push(`${series}/${reading}/${column}`);
    }
  }
  return found;
}

function rowsOf(campaign: Campaign, series: string): Map<string, Record<string, string>> {
  const table = campaign.tables[series];
  const rows = table?.rows.map((row) => Object.fromEntries(table.columns.map((column, i) => [column, row[i]!]))) ?? [];
  return new Map(rows.map((row) => [row["reading"]!, row]));
}
