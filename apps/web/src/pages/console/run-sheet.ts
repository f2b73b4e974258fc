import {
  type Enough,
  enough,
  type Misfit,
  type RunningStatistics,
  readingMisfit,
  runningStatistics,
  type StageId,
  type Visit,
  type VisitReading,
} from "@alcedo-dosimetry/campaign";

/** A line of the run sheet: a visit to a condition, made or to be made. */
export interface RunLine {
  /** Stable while the visit lasts: series, condition, and which visit to it. */
  readonly id: string;
  readonly series: StageId;
  readonly condition: string;
  readonly readings: readonly VisitReading[];
  /** Readings that count. */
  readonly count: number;
  readonly enough: Enough;
}

/** What is known of the visit that is being made. */
export interface VisitState {
  readonly statistics: readonly RunningStatistics[];
  readonly enough: Enough;
  /** Readings that do not fit, by name. */
  readonly misfits: ReadonlyMap<string, Misfit>;
}

/** The run as it was made so far, one line for each visit. */
export function runSheet(visits: readonly Visit[]): RunLine[] {
  const seen = new Map<string, number>();
  const lineOf = (visit: Visit): RunLine => {
    const name = `${visit.series}/${visit.condition}`;
    const which = (seen.get(name) ?? 0) + 1;
    seen.set(name, which);
    return {
      id: `${name}/${which}`,
      series: visit.series,
      condition: visit.condition,
      readings: visit.readings,
      count: visit.readings.filter(({ exclude }) => exclude === undefined).length,
      enough: enough(visit, runningStatistics(visits, visit)),
    };
  };
  return visits.map(lineOf);
}

/** Where the console opens: at the first condition that has not enough readings yet, else at the last one. */
export function openingLine(run: readonly RunLine[]): RunLine | undefined {
  return run.find((line) => !line.enough.enough) ?? run.at(-1);
}

/** What the readings of a line say so far. */
export function visitState(visits: readonly Visit[], line: RunLine, channels: readonly string[]): VisitState {
  const visit = visits.find(({ readings }) => readings === line.readings) ?? { ...line };
  const statistics = runningStatistics(visits, visit);
  return {
    statistics,
    enough: line.enough,
    misfits: new Map(
      visit.readings.flatMap(({ id }) => {
        const misfit = readingMisfit(visits, visit, id, channels);
        return misfit ? [[id, misfit] as const] : [];
      }),
    ),
  };
}

/**
 * The line in which the next reading of a condition would stand: a table goes on at its end, so a condition that others
 * were read after is come back to in a new visit.
 */
export function isOpen(run: readonly RunLine[], line: RunLine): boolean {
  const last = run.findLast(({ series, readings }) => series === line.series && readings.length > 0);
  return line.readings.length === 0 || last?.id === line.id;
}

/**
 * The line in which the next reading of a condition stands, and the run sheet with it: the visit that goes on, or one that
 * is begun anew, behind the others of its series.
 */
export function lineAt(
  run: readonly RunLine[],
  { series, condition }: { readonly series: StageId; readonly condition: string },
): { readonly run: readonly RunLine[]; readonly line: RunLine } {
  const own = run.filter((line) => line.series === series && line.condition === condition);
  const last = own.at(-1);
  if (last && isOpen(run, last)) return { run, line: last };
  const line: RunLine = {
    ...{ id: `${series}/${condition}/${own.length + 1}`, series, condition },
    ...{ readings: [], count: 0, enough: { enough: false } },
  };
  const behind = run.findLastIndex((other) => other.series === series);
  const place = behind < 0 ? run.length : behind + 1;
  return { run: [...run.slice(0, place), line, ...run.slice(place)], line };
}
