import { type Campaign, columnAt, type Edit, type SeriesKind } from "@alcedo-dosimetry/campaign";
import { cellEditAt } from "../../book/reading-place.ts";
import { filled, type Typed } from "../../set-up/filled.ts";
import { ASSUMPTIONS } from "../../set-up/set-up-fields.ts";

/** Readings that are left out on trial. */
export interface OnTrial {
  readonly table: string;
  readonly reading: string;
}

/** What is tried. */
interface Trial {
  readonly out: readonly OnTrial[];
  readonly typed: Typed;
  readonly roles: Readonly<Record<string, string>>;
  readonly other: { readonly id: string; readonly campaign: Campaign } | undefined;
  readonly who: string;
}

/** The edits of a trial, with words for the history. */
export function trial(campaign: Campaign, { out, typed, roles, other, who }: Trial) {
  const words: string[] = [];
  const edits: Edit[] = [];
  const separation = separationOf(campaign);
  const theirs = other && separationOf(other.campaign);
  const from = other && theirs ? other.campaign.tables[theirs] : undefined;
  if (separation && other && from) {
    const own = campaign.tables[separation]!;
    edits.push({ put: { name: separation, table: { ...from, path: own.path } } });
    words.push(`separation of ${other.id}`);
  }
  for (const { table, reading } of out) {
    if (table === separation && from) continue;
    const place = { table, reading };
    const own = [
      cellEditAt(campaign, { ...place, column: "exclude" }, "left out after what-if"),
      cellEditAt(campaign, { ...place, column: "excluded_by" }, who),
    ].filter((edit) => edit !== undefined);
    edits.push(...own);
    if (own.length > 0) words.push(`without ${reading}`);
  }
  if (separation && !from) {
    const table = campaign.tables[separation]!;
    const [condition, role] = [columnAt(table.columns, "condition"), columnAt(table.columns, "role")];
    table.rows.forEach((cells, row) => {
      const wanted = roles[cells[condition]?.trim() ?? ""];
      if (wanted !== undefined && cells[role]?.trim() !== wanted)
        edits.push({ cell: { table: separation, row, column: "role", text: wanted } });
    });
    words.push(...Object.entries(roles).map(([name, own]) => `${name} as ${own}`));
  }
  const { descriptor, faults } = filled(campaign.descriptor, [ASSUMPTIONS], typed);
  if (Object.keys(typed).length > 0 && Object.keys(faults).length === 0) {
    edits.push({ descriptor });
    words.push(
      ...Object.entries(typed).map(
        ([key, text]) => `${key.replace(/^alcedo\.(?:assumptions|criteria)\./, "")} = ${text}`,
      ),
    );
  }
  return { edits, words, faults };
}

/** The name of the table with the separation; undefined where there is none. */
export function separationOf({ descriptor, tables }: Campaign): string | undefined {
  return descriptor.resources.find(
    ({ name, alcedo }) => alcedo.series === ("separation" satisfies SeriesKind) && tables[name],
  )?.name;
}
