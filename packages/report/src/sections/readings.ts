import {
  type ExcludedReading,
  type PointSeries,
  type Reading,
  SIGNAL_PREFIX,
  type Table,
  type TableSeriesKind,
} from "@alcedo-dosimetry/campaign";
import type { Block, Column, Row, Section, TableBlock } from "../document/document.ts";
import { line, user } from "../document/text.ts";
import { channelPlace } from "./channel-place.ts";
import { columnNames } from "./column-names.ts";
import { readingFigures } from "./section-figures.ts";
import type { Material } from "./section-material.ts";

/** Columns of numbers as typed; all others hold names, times and words. */
const WORDS = new Set(["reading", "condition", "time", "exclude", "note", "role", "shape", "dose_group", "source"]);

/** Columns that a page has room for. */
const MOST = 9;
/** Room for a name. */
const TO_FILL_IN = "________________";

/** Every row of every table as it was typed; those that are left out marked, with the reason. */
export function readings(material: Material): Section {
  const { campaign } = material;
  return {
    id: "readings",
    title: "Readings",
    blocks: [
      {
        kind: "paragraph",
        text: "Every row as it was typed, in the order of the files. ✕ marks a reading that was left out of the evaluation; what was read stays.",
      },
      ...leftOut(material),
      ...readingFigures(material).map((figure): Block => ({ kind: "figure", figure })),
      ...campaign.descriptor.resources.flatMap(({ name, path, alcedo: { series } }) => {
        const table = Object.hasOwn(campaign.tables, name) ? campaign.tables[name] : undefined;
        return table && series !== "characterisation" ? tableBlocks(path, table, series, material) : [];
      }),
    ],
  };
}

/** The readings that were left out: why, and by whom as far as the campaign says. */
function leftOut({ interpretation }: Material): Block[] {
  const { background, separation, calibration, "output-factors": fields } = interpretation.series;
  const series = [background, separation, calibration, fields].filter((own) => own !== undefined);
  const rows = series.flatMap((own: PointSeries<Reading>) =>
    own.excluded.map(
      ({ id, row, condition, exclude, excludedBy, note }: ExcludedReading): Row => ({
        cells: [
          [user(id ?? `row ${row}`)],
          [user(own.file)],
          condition ?? "—",
          [user(exclude)],
          [user(note ?? "")],
          excludedBy === undefined ? TO_FILL_IN : [user(excludedBy)],
        ],
        tone: "left-out",
      }),
    ),
  );
  if (rows.length === 0) return [{ kind: "paragraph", text: "No reading was left out." }];
  return [
    {
      kind: "table",
      caption: `Readings left out: ${rows.length}`,
      columns: [
        { head: "reading", kind: "code" },
        { head: "file", kind: "code" },
        { head: "condition", kind: "code" },
        { head: "reason", kind: "text" },
        { head: "note", kind: "text" },
        { head: "left out by", kind: "text" },
      ],
      rows,
      legend: "A name that the column excluded_by does not give is to be filled in by hand.",
    },
  ];
}

/** One table of the campaign: what is the same in all rows of a condition stands in a table of its own. */
function tableBlocks(
  path: string,
  table: Table,
  series: TableSeriesKind,
  { campaign, interpretation }: Material,
): Block[] {
  const { channels } = interpretation;
  const names = columnNames(table, series, channels);
  const count = `${table.rows.length} ${table.rows.length === 1 ? "row" : "rows"}`;
  const filled = names.flatMap((_, c) => (table.rows.some((row) => (row[c] ?? "").trim() !== "") ? [c] : []));
  const common = commonColumns(table, names, filled);
  const excludeAt = names.indexOf("exclude");
  const column = (c: number): Column => {
    const name = names[c]!;
    const place = name.startsWith(SIGNAL_PREFIX) ? channels.indexOf(name.slice(SIGNAL_PREFIX.length)) : -1;
    return {
      head: [user(table.columns[c]!)],
      kind:
        name === "exclude" || name === "excluded_by" || name === "note" || name === "source"
          ? "text"
          : WORDS.has(name)
            ? "code"
            : "number",
      ...channelPlace(place),
    };
  };
  const rowOf = (row: readonly string[], columns: readonly number[]): Row => {
    const out = excludeAt >= 0 && (row[excludeAt] ?? "").trim() !== "";
    return {
      cells: columns.map((c, i) => (out && i === 0 ? line("✕\u00A0", user(row[c] ?? "")) : [user(row[c] ?? "")])),
      ...(out && { tone: "left-out" as const }),
    };
  };
  const own = filled.filter((c) => !common.includes(c));
  const empty = names.flatMap((_, c) => (filled.includes(c) ? [] : [table.columns[c]!]));
  const unit = campaign.descriptor.alcedo.detector.signalUnit;
  const main: TableBlock = {
    kind: "table",
    caption: line(user(path), `: ${count}`),
    columns: own.map(column),
    rows: table.rows.map((row) => rowOf(row, own)),
    legend: line(
      "Signals in ",
      user(unit),
      ".",
      ...(empty.length > 0 ? [" Columns without an entry: ", user(empty.join(", ")), "."] : []),
    ),
  };
  if (common.length === 0) return [main];
  const conditionAt = names.indexOf("condition");
  const seen = new Set<string>();
  const first = table.rows.filter((row) => !seen.has(row[conditionAt] ?? "") && seen.add(row[conditionAt] ?? ""));
  const shown = [conditionAt, ...common];
  return [
    {
      kind: "table",
      caption: line(user(path), ": what is the same in all rows of a condition"),
      columns: shown.map(column),
      rows: first.map((row) => ({ cells: shown.map((c) => [user(row[c] ?? "")]) })),
    },
    main,
  ];
}

/** Columns in which all rows of a condition agree to the letter, where there are more columns than a page has room for. */
function commonColumns(table: Table, names: readonly string[], filled: readonly number[]): readonly number[] {
  const conditionAt = names.indexOf("condition");
  if (conditionAt < 0 || filled.length <= MOST) return [];
  const never = new Set(["reading", "condition", "time", "exclude", "note"]);
  const conditions = new Map<string, readonly string[]>();
  const candidates = new Set(filled.filter((c) => !never.has(names[c]!)));
  for (const row of table.rows) {
    const condition = row[conditionAt] ?? "";
    const known = conditions.get(condition);
    if (!known) conditions.set(condition, row);
    else for (const c of candidates) if ((row[c] ?? "") !== (known[c] ?? "")) candidates.delete(c);
  }
  return [...candidates];
}
