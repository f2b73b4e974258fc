import { ABSENT, columnSymbols, inLine } from "@alcedo-dosimetry/campaign";
import type { TracedReading, TraceStep } from "@alcedo-dosimetry/metrology";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { layTable } from "./table.ts";

/** What tables of readings are drawn with. */
export interface ReadingsOptions extends Omit<Page, "print"> {
  /** Ids of the readings that are left out, by series, with the reason. */
  readonly excluded: ReadonlyMap<string, ReadonlyMap<string, string>>;
}

/** Readings of one mean that are listed; of more the first and the last, and all that are left out. */
const LISTED = 12;
const FIRST = 5;
const LAST = 2;

/** The readings behind the means of a step, a table for each mean: id, what was read, what the formula makes of it. */
export function readingLines(step: TraceStep, options: ReadingsOptions): string[] {
  return meansOf(step.readings ?? []).flatMap((readings) => tableOf(readings, step, options));
}

/** One mean after the other: a new one begins where an id comes a second time or the columns change. */
function meansOf(readings: readonly TracedReading[]): TracedReading[][] {
  const means: TracedReading[][] = [];
  let seen = new Set<string>();
  let columns = "";
  for (const reading of readings) {
    const own = reading.columns.map(({ symbol }) => symbol).join();
    if (means.length === 0 || seen.has(reading.reading) || own !== columns) {
      means.push([]);
      seen = new Set();
      columns = own;
    }
    seen.add(reading.reading);
    means.at(-1)!.push(reading);
  }
  return means;
}

function tableOf(readings: readonly TracedReading[], step: TraceStep, options: ReadingsOptions): string[] {
  const { ink, width, excluded } = options;
  const used = step.formula ? columnSymbols(step.formula) : new Set<string>();
  const looked = readings[0]!.columns.map(({ symbol }, c) => ({ symbol, c })).filter(({ symbol }) => used.has(symbol));
  const listed = readings.filter(
    ({ included }, i) => readings.length <= LISTED || !included || i < FIRST || i >= readings.length - LAST,
  );
  const raw = looked.map(({ c }) =>
    inLine(
      listed.map(({ columns }) => columns[c]!.value),
      6,
    ).map(withoutZeros),
  );
  const made = inLine(
    listed.map(({ value, included }) => (included ? value : undefined)),
    7,
  ).map(withoutZeros);
  const rows = listed.map((reading, i) => {
    const reason = excluded.get(reading.series)?.get(reading.reading);
    return [
      printable(reading.reading),
      ...raw.map((column) => column[i]!),
      reading.included ? made[i]! : ABSENT,
      reading.included ? "" : `left out: ${printable(reason ?? "no reason found")}`,
    ];
  });
  const right = { align: "right" as const };
  const columns = [
    { head: "reading" },
    ...looked.map(({ symbol }) => ({ head: printable(symbol), ...right })),
    { head: "gives", ...right },
    ...[{ head: "", flexible: true }],
  ];
  const { lines } = layTable(columns, rows, width, ink.dim);
  const more = readings.length - listed.length;
  return more > 0 ? [...lines, ink.dim(`… and ${more} more (--json lists all)`)] : [...lines];
}

/** A column of whole numbers reads better without decimals that nobody typed. */
function withoutZeros(text: string, _: number, column: readonly string[]): string {
  const zeros = Math.min(...column.filter((cell) => /\d/.test(cell)).map((cell) => /\.?0*$/.exec(cell)![0].length));
  return text.includes(".") && zeros > 0 && /\d/.test(text) ? text.slice(0, text.length - zeros) : text;
}
