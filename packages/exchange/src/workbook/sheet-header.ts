import { type Column, columnName, SIGNAL_PREFIX } from "@alcedo-dosimetry/campaign";
import { isUnit, spelledUnit } from "./unit-power.ts";

/** What a header of a sheet means. */
export interface HeaderReading {
  /** The column's name, or the header as typed where it is none that is known. */
  readonly name: string;
  /** The unit that the header states, in one spelling. */
  readonly unit?: string;
  /** The unit in which the column is kept. */
  readonly wanted?: string;
  /** True where the column's unit is part of its name, and the header states none. */
  readonly unitMissing?: true;
  /** Offset from UTC that the header of times states, such as `+01:00`. */
  readonly offset?: string;
}

/** Other words for columns, after {@link keyOf}; the words are those of the trade. */
const SYNONYMS: Readonly<Record<string, string>> = {
  reading_id: "reading",
  reading_no: "reading",
  comment: "note",
  comments: "note",
  notes: "note",
  remark: "note",
  remarks: "note",
  excluded: "exclude",
  left_out: "exclude",
  monitor_units: "mu",
  integration_time: "duration",
  temp: "temperature",
  fiber: "fibre",
  fibre_length: "fibre",
  fiber_length: "fibre",
  field_size_x: "x",
  field_size_y: "y",
  output_factors: "output_factor",
  output_corrections: "output_correction",
  output_correction_factor: "output_correction",
};

/** Ends of columns' names that are units. */
const SUFFIXES: Readonly<Record<string, string>> = { Gy: "Gy", mm: "mm", C: "°C", s: "s", percent: "%" };

/** A column as headers may call it. */
interface Known {
  readonly name: string;
  /** Keys of the name with and without its unit, and of the channel alone. */
  readonly keys: readonly string[];
  /** Key without the unit, where the name has one. */
  readonly bare?: string;
  readonly unit?: string;
}

/**
 * Reads headers of one series: letter case, blanks, hyphens and underscores do not matter, and a unit may stand behind the name in
 * brackets, behind a slash or as its last word: `signal blue (pC)`, `dose / cGy`, `x cm`. What is not understood is handed back as
 * typed, for the reading of tables to judge.
 */
export function headerReader(
  columns: readonly Column[],
  signalUnit: string | undefined,
): (typed: string) => HeaderReading {
  const names = columns.map(({ name }) => name);
  const known = columns.map((column) => knownColumn(column, signalUnit));
  return (typed) => {
    const exact = columnName(typed, names);
    if (names.includes(exact)) return { name: exact };
    for (const { base, unit } of [{ base: typed, unit: undefined }, ...divided(typed)]) {
      const key = keyOf(base);
      const found =
        known.find(({ keys }) => keys.includes(key)) ?? known.find(({ keys }) => keys.includes(SYNONYMS[key] ?? ""));
      if (found === undefined) continue;
      if (found.name === "time") {
        if (unit === undefined) return { name: "time" };
        const offset = offsetOf(unit);
        if (offset === undefined) continue;
        return { name: "time", offset };
      }
      const wanted = found.unit === undefined ? {} : { wanted: found.unit };
      if (unit !== undefined) return { name: found.name, unit: spelledUnit(unit), ...wanted };
      const isBare = found.bare !== undefined && (key === found.bare || SYNONYMS[key] === found.bare);
      return { name: found.name, ...wanted, ...(isBare && { unitMissing: true as const }) };
    }
    return { name: typed };
  };
}

function knownColumn({ name, unit }: Column, signalUnit: string | undefined): Known {
  if (name.startsWith(SIGNAL_PREFIX)) {
    const keys = [keyOf(name), keyOf(name.slice(SIGNAL_PREFIX.length))];
    return { name, keys, ...(signalUnit !== undefined && { unit: spelledUnit(signalUnit) }) };
  }
  const end = name.slice(name.lastIndexOf("_") + 1);
  if (unit === undefined || SUFFIXES[end] === undefined)
    return { name, keys: [keyOf(name)], ...(unit !== undefined && { unit }) };
  const bare = keyOf(name.slice(0, -end.length - 1));
  return { name, keys: [keyOf(name), bare], bare, unit };
}

/** A header as name and unit, in each way that it can be divided. */
function divided(typed: string): { base: string; unit: string }[] {
  const text = typed.trim();
  const ways = [
    /^(.+?)\s*\(([^()]*)\)$/,
    /^(.+?)\s*\[([^[\]]*)\]$/,
    /^(.+?)\s*\/\s*([^/\s]+)$/,
    /^(.+?)\s+in\s+(\S+)$/i,
  ];
  const found = ways.flatMap((way) => {
    const match = way.exec(text);
    return match === null ? [] : [{ base: match[1]!, unit: match[2]! }];
  });
  const last = /^(.+)[\s_]([^\s_]+)$/.exec(text);
  return last !== null && isUnit(last[2]!) ? [...found, { base: last[1]!, unit: last[2]! }] : found;
}

function keyOf(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, "_");
}

function offsetOf(text: string): string | undefined {
  const match = /^(?:utc|gmt)?\s*(?:([+-−])\s*(\d{1,2})(?::?([0-5]\d))?)?$/i.exec(text.trim());
  if (match === null || text.trim() === "") return /^z$/i.test(text.trim()) ? "Z" : undefined;
  if (match[1] === undefined) return "Z";
  return `${match[1] === "+" ? "+" : "-"}${match[2]!.padStart(2, "0")}:${match[3] ?? "00"}`;
}
