import { type Column, columnName, columnsOf, SIGNAL_PREFIX, type TableSeriesKind } from "@alcedo-dosimetry/campaign";

/** What a column of a block goes into: a column of the table by name; null where it is left out. */
export type Mapping = readonly (string | null)[];

/** What was chosen for a header before, by {@link headerKey}. */
export type Remembered = Readonly<Record<string, string | null>>;

/** What headers in other words mean, by the words without case, blanks and units. Trade words, in the order of the columns. */
const MEANT: readonly (readonly [words: RegExp, column: string])[] = [
  [/^(?:reading|id|no|nr|number|#|run|file)$/, "reading"],
  [/^(?:condition|arrangement|setup|fieldname|cone|applicator)$/, "condition"],
  [/^(?:time|datetime|timestamp|date)$/, "time"],
  [/^(?:duration|integrationtime|livetime|seconds)$/, "duration_s"],
  [/^(?:mu|monitorunits?)$/, "mu"],
  [/^(?:monitor|referencedetector|monitorchamber)$/, "monitor"],
  [/^(?:temperature|temp|t)$/, "temperature_C"],
  [/^(?:dosegroup|group)$/, "dose_group"],
  [/^role$/, "role"],
  [/^(?:dose|referencedose)$/, "dose_Gy"],
  [/^(?:fibre|fiber|fibrelength|fibreinbeam|lengthoffibre)$/, "fibre_mm"],
  [/^shape$/, "shape"],
  [/^(?:x|fieldx|widthx)$/, "x_mm"],
  [/^(?:y|fieldy|widthy)$/, "y_mm"],
  [/^(?:diameter|conediameter)$/, "diameter_mm"],
  [/^(?:fwhmx|xfwhm)$/, "fwhm_x_mm"],
  [/^(?:fwhmy|yfwhm)$/, "fwhm_y_mm"],
  [/^(?:offsetx|dx)$/, "offset_x_mm"],
  [/^(?:offsety|dy)$/, "offset_y_mm"],
  [/^(?:exclude|excluded|leftout)$/, "exclude"],
  [/^(?:note|notes|remark|remarks|comment|comments)$/, "note"],
];

/** A header without what varies from sheet to sheet: case, blanks, signs, a unit in brackets. */
export function headerKey(header: string): string {
  return header
    .toLowerCase()
    .replace(/[([{].*$|\s\/\s.*$/, "")
    .replace(/[\s_./:-]+/g, "");
}

/** Whether the first row of a block is a header: it holds words where the rows beneath hold numbers, or names a column. */
export function hasHeader(cells: readonly (readonly string[])[], columns: readonly Column[]): boolean {
  const [first, second] = cells;
  if (!first) return false;
  const known = first.filter((cell) => nameOf(cell, columns) !== undefined).length;
  if (known >= Math.min(2, first.length)) return true;
  const isNumber = (cell: string) => /^[+-]?[\d.,]+(?:[eE][+-]?\d+)?$/.test(cell);
  return second !== undefined && first.every((cell) => !isNumber(cell)) && second.some(isNumber);
}

/** Which column each header means: as it was chosen before, by its name, or by the words of the trade; each column once. */
export function recognise(
  headers: readonly string[],
  series: TableSeriesKind,
  channels: readonly string[],
  remembered: Remembered = {},
): Mapping {
  const columns = columnsOf(series, channels);
  const taken = new Set<string>();
  const mapping = headers.map((): string | null => null);
  const settled = new Set<number>();
  const pass = (find: (header: string) => string | null | undefined) => {
    headers.forEach((header, k) => {
      if (settled.has(k)) return;
      const name = find(header);
      if (name === undefined || (name !== null && taken.has(name))) return;
      settled.add(k);
      mapping[k] = name;
      if (name !== null) taken.add(name);
    });
  };
  const known = new Set(columns.map(({ name }) => name));
  pass((header) => {
    const before = remembered[headerKey(header)];
    return before === undefined || (before !== null && !known.has(before)) ? undefined : before;
  });
  pass((header) => exactName(header, columns));
  pass((header) => nameOf(header, columns));
  return mapping;
}

function exactName(header: string, columns: readonly Column[]): string | undefined {
  const names = columns.map(({ name }) => name);
  return names.find((name) => name === columnName(header, names));
}

function nameOf(header: string, columns: readonly Column[]): string | undefined {
  const exact = exactName(header, columns);
  if (exact !== undefined) return exact;
  const key = headerKey(header);
  if (key === "") return undefined;
  const spelt = columns.find(({ name }) => headerKey(name) === key || withoutUnit(name) === key);
  if (spelt) return spelt.name;
  // a channel by its own name: `Blue`, `blue (nC)`, `q blue`
  const signals = columns.filter(({ name }) => name.startsWith(SIGNAL_PREFIX));
  const signal = signals.find(({ name }) => {
    const channel = headerKey(name.slice(SIGNAL_PREFIX.length));
    return [
      channel,
      `signal${channel}`,
      `charge${channel}`,
      `q${channel}`,
      `m${channel}`,
      `${channel}channel`,
    ].includes(key);
  });
  if (signal) return signal.name;
  const meant = MEANT.find(([words]) => words.test(key))?.[1];
  return columns.find(({ name }) => name === meant)?.name;
}

/** `fwhm_x_mm` → `fwhmx`. */
const withoutUnit = (name: string) => headerKey(name.replace(/_(?:mm|s|C|Gy|percent)$/, ""));
