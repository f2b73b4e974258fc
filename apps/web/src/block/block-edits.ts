import type { Campaign, Edit } from "@alcedo-dosimetry/campaign";
import type { BlockRows } from "./block-table.ts";

/** The edits that put rows of a block behind those of a table, with the columns that they need. */
export function blockEdits({ tables }: Campaign, name: string, { added, rows }: BlockRows): readonly Edit[] {
  const table = tables[name]!;
  if (added.length === 0) return [{ insert: { table: name, at: table.rows.length, rows } }];
  const columns = [...table.columns, ...added];
  const widened = table.rows.map((row) => [...row, ...added.map(() => "")]);
  const last = table.lines.at(-1) ?? 1;
  return [
    {
      put: {
        name,
        table: {
          ...table,
          columns,
          rows: [...widened, ...rows],
          lines: [...table.lines, ...rows.map((_, k) => last + 1 + k)],
        },
      },
    },
  ];
}
