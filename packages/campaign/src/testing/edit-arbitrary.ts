import fc from "fast-check";
import { applyEdits, type Campaign, type Edit } from "../document.ts";

const TEXT = fc
  .oneof(fc.constantFrom("", "6.50", " 1,2", "=1+1", "two\nlines", "漢"), fc.string({ maxLength: 4 }))
  .filter((text) => !/[\p{Cc}\p{Surrogate}]/u.test(text.replaceAll("\n", "")));

/** A number for each choice that an edit leaves open, folded onto what the campaign has at that moment. */
const CHOICE = fc.record({
  kind: fc.constantFrom("cell", "cell", "cell", "column", "insert", "remove", "put", "out", "descriptor"),
  table: fc.nat(),
  row: fc.nat(),
  column: fc.nat(),
  count: fc.nat(3),
  text: TEXT,
});

/** A list of edits, each of which fits a campaign as those before have left it. */
export function editsTo(campaign: Campaign): fc.Arbitrary<readonly Edit[]> {
  return fc.array(CHOICE, { maxLength: 8 }).map((choices) => {
    let now = campaign;
    const edits: Edit[] = [];
    for (const choice of choices) {
      const edit = editFor(now, choice);
      if (edit === undefined) continue;
      edits.push(edit);
      now = applyEdits(now, [edit]);
    }
    return edits;
  });
}

type Choice = typeof CHOICE extends fc.Arbitrary<infer C> ? C : never;

function editFor(
  { descriptor, tables }: Campaign,
  { kind, table: t, row: r, column: c, count, text }: Choice,
): Edit | undefined {
  const names = Object.keys(tables);
  const table = names[t % Math.max(1, names.length)];
  if (kind === "descriptor") return { descriptor: { ...descriptor, title: text } };
  if (table === undefined) return undefined;
  const now = tables[table]!;
  const row = r % Math.max(1, now.rows.length);
  switch (kind) {
    case "out":
      return { put: { name: table } };
    case "put":
      return {
        put: {
          name: c % 2 === 0 ? table : "extra",
          table: { ...now, path: "other.csv", lines: now.rows.map((_, i) => 3 * i) },
        },
      };
    case "insert": {
      const rows = Array.from({ length: count }, (_, i) =>
        now.columns.map((_name, j) => (j === 0 ? `new ${text} ${i}` : text)),
      );
      return { insert: { table, at: r % (now.rows.length + 1), rows } };
    }
    case "remove":
      return { remove: { table, at: row, count: Math.min(count, now.rows.length - row) } };
    default: {
      if (now.rows.length === 0) return undefined;
      const column = kind === "column" ? `added ${c % 3}` : now.columns[c % now.columns.length]!;
      return { cell: { table, row, column, text } };
    }
  }
}
