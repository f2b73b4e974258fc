import {
  type Campaign,
  columnsOf,
  type Descriptor,
  type Edit,
  SIGNAL_PREFIX,
  type Table,
  type TableSeriesKind,
} from "@alcedo-dosimetry/campaign";

/** Columns that a new table has beside those that every campaign needs. */
const USEFUL: Readonly<Partial<Record<TableSeriesKind, readonly string[]>>> = {
  separation: ["mu", "fibre_mm"],
  calibration: ["mu"],
  "output-factors": ["mu", "shape", "x_mm", "y_mm", "diameter_mm", "fwhm_x_mm", "fwhm_y_mm"],
  "reference-set": ["condition", "equivalent_square_mm"],
};

/** An empty table of a series, with the columns that it needs, in their order. */
export function emptyTable(
  series: TableSeriesKind,
  channels: readonly string[],
  { decimal, withBackground }: { readonly decimal: "." | ","; readonly withBackground: boolean },
): Table {
  const useful = new Set(USEFUL[series]);
  const columns = columnsOf(series, channels)
    .filter(
      ({ name, needed }) => needed === "always" || (needed === "with-background" && withBackground) || useful.has(name),
    )
    .map(({ name }) => name);
  return { path: `${series}.csv`, decimal, columns, rows: [], lines: [] };
}

/** The edits that put a table for a series into a campaign, with its name in the descriptor. */
export function tableEdits(
  { descriptor, tables }: Campaign,
  series: TableSeriesKind,
  table: Table,
): { readonly name: string; readonly edits: readonly Edit[] } {
  const used = new Set([...descriptor.resources.map(({ name }) => name), ...Object.keys(tables)]);
  const name = freeName(series, used);
  const path = freePath(table.path, new Set(descriptor.resources.map((resource) => resource.path)));
  const resources: Descriptor["resources"] = [...descriptor.resources, { name, path, alcedo: { series } }];
  return {
    name,
    edits: [{ descriptor: { ...descriptor, resources } }, { put: { name, table: { ...table, path } } }],
  };
}

/** Whether a campaign has a background, so that its readings need their integration time. */
export function hasBackground({ resources }: Pick<Descriptor, "resources">): boolean {
  return resources.some(({ alcedo }) => alcedo.series === "background");
}

/** The decimal sign of a campaign's tables; a point where it has none. */
export function decimalOfTables({ tables }: Campaign): "." | "," {
  return Object.values(tables)[0]?.decimal ?? ".";
}

/** The channels that the signal columns of a header name. */
export function channelsIn(columns: readonly string[]): string[] {
  return columns
    .map((name) => name.trim())
    .flatMap((name) => (name.startsWith(SIGNAL_PREFIX) ? [name.slice(SIGNAL_PREFIX.length)] : []));
}

function freeName(name: string, used: ReadonlySet<string>): string {
  for (let k = 1; ; k++) {
    const own = k === 1 ? name : `${name}-${k}`;
    if (!used.has(own)) return own;
  }
}

function freePath(path: string, used: ReadonlySet<string>): string {
  const [, stem, ending] = /^(.*?)(\.[^.]*)?$/.exec(path)!;
  for (let k = 1; ; k++) {
    const own = k === 1 ? path : `${stem}-${k}${ending ?? ""}`;
    if (!used.has(own)) return own;
  }
}
